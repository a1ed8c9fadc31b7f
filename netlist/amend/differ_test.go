package amend

import (
	"fmt"
	"math"
	"reflect"
	"regexp"
	"slices"
	"strings"

	"gapwise/netlist/layout"
	"gapwise/netlist/source"
)

var unlooked = []reflect.Type{reflect.TypeFor[source.Pos](), reflect.TypeFor[source.Files](), reflect.TypeFor[[]source.Problem]()}

// differences are where two layouts differ, as paths such as Buses[3].Wire.Lo; where things
// stand in the files does not count, nor do two hundred-thousandths of a millimetre.
func differences(a, b *layout.Layout) []string {
	return differ(reflect.ValueOf(a).Elem(), reflect.ValueOf(b).Elem(), "", nil)
}

func differ(a, b reflect.Value, path string, found []string) []string {
	if slices.Contains(unlooked, a.Type()) {
		return found
	}
	switch a.Kind() {
	case reflect.Struct:
		for i := range a.NumField() {
			name := a.Type().Field(i).Name
			if a.Type().Field(i).Anonymous {
				name = ""
			}
			found = differ(a.Field(i), b.Field(i), strings.Trim(path+"."+name, "."), found)
		}
	case reflect.Slice, reflect.Array:
		if a.Len() != b.Len() {
			return append(found, fmt.Sprintf("%s: %d, %d", path, a.Len(), b.Len()))
		}
		for i := range a.Len() {
			found = differ(a.Index(i), b.Index(i), fmt.Sprintf("%s[%d]", path, i), found)
		}
	case reflect.Float64:
		if math.Abs(a.Float()-b.Float()) > 2e-8 {
			return append(found, fmt.Sprintf("%s: %v, %v", path, a.Float(), b.Float()))
		}
	default:
		if !a.Equal(b) {
			return append(found, fmt.Sprintf("%s: %v, %v", path, a, b))
		}
	}
	return found
}

// without leaves out the differences that fit any of some patterns.
func without(found []string, patterns ...string) []string {
	return slices.DeleteFunc(found, func(d string) bool {
		path, _, _ := strings.Cut(d, ":")
		return slices.ContainsFunc(patterns, func(p string) bool {
			return regexp.MustCompile("^(?:" + p + ")$").MatchString(path)
		})
	})
}
