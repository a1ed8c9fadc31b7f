package districts

import (
	"slices"

	"gapwise/netlist/circuit"
)

// Setting is a device in one of its positions.
type Setting struct {
	Device   int32
	Position int16
}

// thrown is a device's setting and those of what is thrown with it.
func thrown(c *circuit.Circuit, s Setting) []Setting {
	out := []Setting{s}
	for _, k := range c.Devices[s.Device].Coupled {
		out = append(out, Setting{k.Device, k.To[s.Position]})
	}
	return out
}

// with adds a setting, and what is thrown along, to others; ok is false when one of
// them asks for another position of the same device, or an exclusion forbids them
// together.
func with(c *circuit.Circuit, never [][]Setting, settings []Setting, s Setting) (all []Setting, ok bool) {
	all = slices.Clip(settings)
	for _, x := range thrown(c, s) {
		at := slices.IndexFunc(all, func(o Setting) bool { return o.Device == x.Device })
		switch {
		case at < 0:
			all = append(all, x)
		case all[at].Position != x.Position:
			return nil, false
		}
	}
	return all, !excluded(never, all)
}

// exclusions are the settings that may not hold at once, as the layout says. What locks blades in a setting locks them while
// contacts change over too: a moment in which they lie so is forbidden with it.
func exclusions(c *circuit.Circuit) [][]Setting {
	var out [][]Setting
	for i := range c.Layout.NeverTogether {
		e := &c.Layout.NeverTogether[i]
		var set []Setting
		for k, p := range e.Pieces {
			d := c.PieceDevice[p]
			if d < 0 {
				continue
			}
			if at := slices.Index(c.Devices[d].Positions, e.Settings[k]); at >= 0 {
				set = append(set, Setting{d, int16(at)})
			}
		}
		if len(set) == len(e.Pieces) {
			out = append(out, withMoments(c, set)...)
		}
	}
	return out
}

// withMoments are settings, and all that come of them when blades lie as they say in a moment.
func withMoments(c *circuit.Circuit, set []Setting) [][]Setting {
	out := [][]Setting{set}
	for k, s := range set {
		d := &c.Devices[s.Device]
		for m, moment := range d.Moments {
			if moment.Blades != s.Position || moment.Contacts < 0 {
				continue
			}
			for _, o := range out[:len(out):len(out)] {
				if o[k].Position != s.Position {
					continue
				}
				other := slices.Clone(o)
				other[k].Position = int16(d.Rests() + m)
				out = append(out, other)
			}
		}
	}
	return out
}

// excluded reports whether settings hold all that some exclusion forbids together.
func excluded(never [][]Setting, settings []Setting) bool {
	return slices.ContainsFunc(never, func(set []Setting) bool {
		return !slices.ContainsFunc(set, func(s Setting) bool { return !slices.Contains(settings, s) })
	})
}
