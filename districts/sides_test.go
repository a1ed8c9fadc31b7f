package districts_test

import (
	"fmt"
	"strings"
	"testing"

	"gapwise/districts"
)

// oneGap is two tracks end to end, with what parts them and what feeds them.
const oneGap = `gapwise: 1
layout: Test
defaults:
  gap: {rails: both, kind: insulated}
  feeder: {A: left}
  joint: {kind: soldered}
tracks:
  P: {from: end, to: Q start, length: 10 ft}
  Q: {from: P end, to: end, length: 10 ft}
supplies: {wall: {volts: 18 V}}
boosters:
  one: {supply: wall, volts: 15 V}
  two: {like: one}
buses:
  one: {from: booster one, wire: 14 AWG, length: 20 ft}
  two: {from: booster two, wire: 14 AWG, length: 20 ft}
`

// meetings tells each meeting: its place and the two sources.
func meetings(tr *districts.Trace) string {
	return names(tr.Meetings(), func(m districts.Meeting) string {
		w := &tr.C.Ways[m.Way]
		s := &tr.C.Spots[w.B]
		text := fmt.Sprintf("%s @ %s: %s, %s", tr.C.Layout.Pieces[s.Piece].Name, inFeet(s.At), tr.C.Sources[m.Sources[0]].Name, tr.C.Sources[m.Sources[1]].Name)
		if m.Common {
			text += ", common"
		}
		return text
	})
}

func TestMeetings(t *testing.T) {
	for _, c := range []struct{ name, rest, want string }{
		{"a gap", "gaps: {Q: [start]}\nfeeders:\n  P: {5 ft: one @ 5 ft}\n  Q: {5 ft: two @ 5 ft}\n", "Q @ 0 ft: booster one, booster two"},
		{"one source", "gaps: {Q: [start]}\nfeeders:\n  P: {5 ft: one @ 5 ft}\n  Q: {5 ft: one @ 15 ft}\n", "-"},
		{"no gap", "feeders:\n  P: {5 ft: one @ 5 ft}\n  Q: {5 ft: two @ 5 ft}\n", "-"},
		{"a side without feeders", "gaps: {Q: [start]}\nfeeders:\n  P: {5 ft: one @ 5 ft}\n", "-"},
		{"a side fed by a bond", "gaps: {Q: [start, 5 ft]}\nbonds: [{from: Q @ 2 ft, to: P @ 8 ft, rails: both}]\nfeeders:\n  P: {5 ft: one @ 5 ft}\n  Q: {7 ft: two @ 5 ft}\n", "Q @ 5 ft: booster one, booster two"},
		{"a rail that is not common", "gaps: {Q: [{at: start, rails: left}]}\nfeeders:\n  P: {5 ft: one @ 5 ft}\n  Q: {5 ft: two @ 5 ft}\n", "-"},
		{"a common rail", "gaps: {Q: [{at: start, rails: left}]}\ncommon-rail: [{rail: right, of: [P, Q]}]\nfeeders:\n  P: {5 ft: one @ 5 ft}\n  Q: {5 ft: two @ 5 ft}\n", "Q @ 0 ft: booster one, booster two, common"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := meetings(trace(t, oneGap+c.rest)); got != c.want {
				t.Errorf("meetings: %s, want %s", got, c.want)
			}
		})
	}
}

// TestBridgeMeetsItsTracks holds a bridge to what the layout says that it hangs from.
func TestBridgeMeetsItsTracks(t *testing.T) {
	got := meetings(trace(t, `gapwise: 1
layout: Test
defaults:
  feeder: {A: left}
  joint: {kind: soldered}
tracks:
  lead: {from: end, to: TT lead, length: 5 ft}
turntables:
  TT: {bridge: 1 ft, tracks: {lead: 0 deg}, feed: plain, from: two @ 5 ft, A: left}
supplies: {wall: {volts: 18 V}}
boosters:
  one: {supply: wall, volts: 15 V}
  two: {like: one}
buses:
  one: {from: booster one, wire: 14 AWG, length: 20 ft}
  two: {from: booster two, wire: 14 AWG, length: 20 ft}
feeders:
  lead: {2 ft: one @ 5 ft}
`))
	if n := strings.Count(got, "booster two, booster one"); n != 2 || strings.Count(got, ",") != 3 {
		t.Errorf("meetings: %s, want the bridge with the track, by either end of it", got)
	}
}

func TestCommonAt(t *testing.T) {
	tr := trace(t, oneGap+"common-rail: [{rail: right, of: [P @ 0 .. 4 ft]}]\nfeeders:\n  P: {2 ft: one @ 5 ft, 6 ft: one @ 6 ft}\n")
	in, out := spotAt(t, tr, "P @ 2 ft"), spotAt(t, tr, "P @ 6 ft")
	if tr.CommonAt(in, 0) || !tr.CommonAt(in, 1) || tr.CommonAt(out, 1) {
		t.Error("only the right rail of the first 4 ft is a common")
	}
}
