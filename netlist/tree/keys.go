package tree

// keySet finds keys of a map that come twice.
type keySet struct {
	lines map[string]int32 // nil for a small map, where its fields are compared
}

// smallMap is up to how many fields comparing is faster than hashing.
const smallMap = 12

func newKeySet(size int) keySet {
	if size <= smallMap {
		return keySet{}
	}
	return keySet{lines: make(map[string]int32, size)}
}

// add returns the line at which key came first, 0 when it is new. fields are the ones
// before it.
func (k keySet) add(key string, line int32, fields []Field) int32 {
	if k.lines == nil {
		for i := range fields {
			if fields[i].Key == key {
				return fields[i].KeyPos.Line
			}
		}
		return 0
	}
	if first, again := k.lines[key]; again {
		return first
	}
	k.lines[key] = line
	return 0
}
