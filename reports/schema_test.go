package reports

import (
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"gapwise/rules/finding"
)

// schema is as much of a JSON schema as check.schema.json uses.
type schema struct {
	Ref        string             `json:"$ref"`
	Defs       map[string]*schema `json:"$defs"`
	Type       any                `json:"type"`
	Const      any                `json:"const"`
	Enum       []any              `json:"enum"`
	Minimum    *float64           `json:"minimum"`
	Closed     *bool              `json:"additionalProperties"`
	Required   []string           `json:"required"`
	Properties map[string]*schema `json:"properties"`
	Items      *schema            `json:"items"`
}

func readSchema(t *testing.T) *schema {
	t.Helper()
	text, err := os.ReadFile("check.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	var s schema
	if err := json.Unmarshal(text, &s); err != nil {
		t.Fatal(err)
	}
	return &s
}

// breaches lists where a decoded value is not what a schema asks for.
func (root *schema) breaches(s *schema, at string, x any) (out []string) {
	for s.Ref != "" {
		to := root.Defs[strings.TrimPrefix(s.Ref, "#/$defs/")]
		if to == nil {
			return []string{at + ": no definition " + s.Ref}
		}
		s = to
	}
	if s.Const != nil && s.Const != x || s.Enum != nil && !slices.Contains(s.Enum, x) {
		out = append(out, fmt.Sprintf("%s: %v is not allowed", at, x))
	}
	if s.Type != nil && !slices.Contains(types(s.Type), typeOf(x)) && !(typeOf(x) == "integer" && slices.Contains(types(s.Type), "number")) {
		return append(out, fmt.Sprintf("%s: %s, want %v", at, typeOf(x), s.Type))
	}
	switch x := x.(type) {
	case float64:
		if s.Minimum != nil && x < *s.Minimum {
			out = append(out, fmt.Sprintf("%s: %v is below %v", at, x, *s.Minimum))
		}
	case []any:
		for i, item := range x {
			out = append(out, root.breaches(s.Items, fmt.Sprintf("%s[%d]", at, i), item)...)
		}
	case map[string]any:
		for _, name := range s.Required {
			if _, found := x[name]; !found {
				out = append(out, at+"."+name+" is missing")
			}
		}
		for name, field := range x {
			if p := s.Properties[name]; p != nil {
				out = append(out, root.breaches(p, at+"."+name, field)...)
			} else if s.Closed != nil && !*s.Closed {
				out = append(out, at+"."+name+" is in no schema")
			}
		}
	}
	return out
}

func types(t any) []string {
	if one, ok := t.(string); ok {
		return []string{one}
	}
	var out []string
	for _, x := range t.([]any) {
		out = append(out, x.(string))
	}
	return out
}

func typeOf(x any) string {
	switch x := x.(type) {
	case nil:
		return "null"
	case bool:
		return "boolean"
	case string:
		return "string"
	case float64:
		if x == float64(int64(x)) {
			return "integer"
		}
		return "number"
	case []any:
		return "array"
	default:
		return "object"
	}
}

// TestSchema holds the documents of the demo, of mistakes and of an unread file against the
// published schema. The schema is closed, so a field that it lacks fails too.
func TestSchema(t *testing.T) {
	views := []*View{viewOf(t, "reports/testdata/mistakes.yaml", finding.Note), ViewOfUnread("none.yaml", "cannot read none.yaml")}
	for _, path := range tinHarbour {
		views = append(views, viewOf(t, path, finding.Note))
	}
	d := decoded(t, views)
	s := readSchema(t)
	for _, b := range s.breaches(s, "document", d) {
		t.Error(b)
	}
	for _, list := range []string{"layouts", "problems", "findings", "not_checked", "districts", "blocks"} {
		if len(d[list].([]any)) == 0 {
			t.Errorf("no %s to hold against the schema", list)
		}
	}
	if d["verdict"] != "cannot-read" {
		t.Errorf("verdict is %v", d["verdict"])
	}
}

// TestSchemaOfNothing: with nothing to say, every list is there and empty.
func TestSchemaOfNothing(t *testing.T) {
	d := decoded(t, nil)
	s := readSchema(t)
	for _, b := range s.breaches(s, "document", d) {
		t.Error(b)
	}
}

// TestSchemaRefuses tests the test: what does not fit is seen.
func TestSchemaRefuses(t *testing.T) {
	for name, spoil := range map[string]func(map[string]any){
		"a missing field": func(d map[string]any) { delete(d, "findings") },
		"a null list":     func(d map[string]any) { d["findings"] = nil },
		"another field":   func(d map[string]any) { d["more"] = 1.0 },
		"another version": func(d map[string]any) { d["version"] = 2.0 },
		"no verdict":      func(d map[string]any) { d["verdict"] = "safe" },
		"deep inside":     func(d map[string]any) { d["counts"].(map[string]any)["faults"] = -1.0 },
	} {
		d := decoded(t, nil)
		spoil(d)
		if s := readSchema(t); len(s.breaches(s, "document", d)) == 0 {
			t.Errorf("%s is not seen", name)
		}
	}
}

func decoded(t *testing.T, views []*View) map[string]any {
	t.Helper()
	var b strings.Builder
	if err := WriteJSON(&b, views); err != nil {
		t.Fatal(err)
	}
	var d map[string]any
	if err := json.Unmarshal([]byte(b.String()), &d); err != nil {
		t.Fatal(err)
	}
	return d
}
