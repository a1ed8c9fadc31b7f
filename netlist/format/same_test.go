package format

import (
	"reflect"
	"regexp"
	"slices"
	"strings"

	"gapwise/netlist/layout"
	"gapwise/netlist/source"
	"gapwise/netlist/tree"
)

type errorer interface {
	fataler
	Errorf(format string, args ...any)
}

// sameLayout compares layouts but for where things stand in their files and for blanks in
// what was typed.
func sameLayout(t errorer, was, is *layout.Layout) {
	t.Helper()
	if where := differ(reflect.ValueOf(was).Elem(), reflect.ValueOf(is).Elem(), "", "layout"); where != "" {
		t.Errorf("%s: %s", was.Files[0].Name, where)
	}
}

var ignored = []reflect.Type{reflect.TypeFor[source.Pos](), reflect.TypeFor[source.Files]()}

// differ says where two values differ, "" if nowhere. Fields called Text hold what was typed.
func differ(a, b reflect.Value, field, path string) string {
	if slices.Contains(ignored, a.Type()) {
		return ""
	}
	switch a.Kind() {
	case reflect.Struct:
		for i := range a.NumField() {
			name := a.Type().Field(i).Name
			if where := differ(a.Field(i), b.Field(i), name, path+"."+name); where != "" {
				return where
			}
		}
	case reflect.Slice, reflect.Array:
		if a.Len() != b.Len() {
			return path + ": not as many"
		}
		for i := range a.Len() {
			if where := differ(a.Index(i), b.Index(i), field, path+"[]"); where != "" {
				return where
			}
		}
	case reflect.Pointer, reflect.Interface:
		if a.IsNil() != b.IsNil() {
			return path + ": nil"
		}
		if !a.IsNil() {
			return differ(a.Elem(), b.Elem(), field, path)
		}
	case reflect.Map:
		if a.Len() != b.Len() {
			return path + ": not as many"
		}
		for _, k := range a.MapKeys() {
			if !b.MapIndex(k).IsValid() {
				return path + ": no " + k.String()
			}
			if where := differ(a.MapIndex(k), b.MapIndex(k), field, path); where != "" {
				return where
			}
		}
	case reflect.String:
		x, y := a.String(), b.String()
		if field == "Text" || field == "Message" {
			x, y = unspaced(x), unspaced(y)
		}
		if x != y {
			return path + ": " + x + ", " + y
		}
	default:
		if !a.Equal(b) {
			return path
		}
	}
	return ""
}

func unspaced(s string) string { return strings.ReplaceAll(s, " ", "") }

// sameTree compares trees but for the order of keys and for blanks in texts without quotes.
func sameTree(a, b *tree.Node) bool {
	if a.Kind != b.Kind || len(a.Fields) != len(b.Fields) || len(a.Items) != len(b.Items) || a.Quoted != b.Quoted {
		return false
	}
	byKey := map[string][]*tree.Node{}
	for _, f := range a.Fields {
		byKey[unspaced(f.Key)] = append(byKey[unspaced(f.Key)], f.Value)
	}
	for _, f := range b.Fields {
		same := byKey[unspaced(f.Key)]
		if len(same) == 0 || !sameTree(same[0], f.Value) {
			return false
		}
		byKey[unspaced(f.Key)] = same[1:]
	}
	for i := range a.Items {
		if !sameTree(a.Items[i], b.Items[i]) {
			return false
		}
	}
	return a.Quoted && a.Text == b.Text || !a.Quoted && unspaced(a.Text) == unspaced(b.Text)
}

// sameComments compares the comments of each section, and what each stands at.
func sameComments(t errorer, was, is string) {
	t.Helper()
	before, after := commentsOf(was), commentsOf(is)
	for section, list := range before {
		if !slices.Equal(list, after[section]) {
			t.Errorf("comments of %s were\n%s\nand are\n%s", section, strings.Join(list, "\n"), strings.Join(after[section], "\n"))
		}
	}
	if len(before) != len(after) {
		t.Errorf("%d sections have comments, and had %d", len(after), len(before))
	}
}

var (
	quotes    = regexp.MustCompile(`(^|[ \[{,:])("(\\.|[^"\\])*"|'[^']*')`)
	hash      = regexp.MustCompile(`(^|[ \t])#.*$`)
	entryName = regexp.MustCompile(`^ *(- *)*([^:{\[]*)`)
)

// commentsOf lists the comments of each section with the entry that each stands behind, or
// before. It reads lines, and knows nothing of the tree.
func commentsOf(text string) map[string][]string {
	found := map[string][]string{}
	section, waiting := "", []string(nil)
	take := func(entry string) {
		for _, c := range waiting {
			found[section] = append(found[section], entry+" "+c)
		}
		waiting = nil
	}
	for raw := range strings.Lines(strings.TrimPrefix(text, source.ByteOrderMark)) {
		raw = strings.TrimRight(raw, " \r\n")
		plain := quotes.ReplaceAllStringFunc(raw, func(s string) string { return strings.Repeat("q", len(s)) })
		comment := ""
		if at := hash.FindStringIndex(plain); at != nil {
			comment = strings.TrimLeft(raw[at[0]:], " \t")
			raw = strings.TrimRight(raw[:at[0]], " ")
		}
		if raw == "" {
			if comment != "" {
				waiting = append(waiting, comment)
			}
			continue
		}
		entry := unspaced(entryName.FindStringSubmatch(raw)[2])
		if raw[0] != ' ' && raw[0] != '-' && raw[0] != '}' && raw[0] != ']' {
			section = entry
		}
		take(entry)
		if comment != "" {
			waiting = append(waiting, comment)
			take(entry + " has")
		}
	}
	take("end")
	return found
}
