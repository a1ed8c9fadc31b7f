package circuit_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/circuit"
)

// A joint of two tracks in every way they can meet, with a gap in one rail named from
// either side. At unlike ends the two tracks name the rails alike; at like ends one calls
// left what the other calls right.
func TestJoints(t *testing.T) {
	tracks := map[string]string{
		"P end, Q start":   "  P: {from: end, to: Q start, length: 3 ft}\n  Q: {from: P end, to: end, length: 3 ft}\n",
		"P start, Q end":   "  P: {from: Q end, to: end, length: 3 ft}\n  Q: {from: end, to: P start, length: 3 ft}\n",
		"P end, Q end":     "  P: {from: end, to: Q end, length: 3 ft}\n  Q: {from: end, to: P end, length: 3 ft}\n",
		"P start, Q start": "  P: {from: Q start, to: end, length: 3 ft}\n  Q: {from: P start, to: end, length: 3 ft}\n",
	}
	for _, tt := range []struct{ meeting, gap, want string }{
		{"P end, Q start", "P: [{at: end, rails: left}]", "P @ 3 to Q @ 0: |0 ="},
		{"P end, Q start", "Q: [{at: start, rails: left}]", "P @ 3 to Q @ 0: |0 ="},
		{"P end, Q start", "Q: [{at: 0, rails: right}]", "P @ 3 to Q @ 0: = |0"},
		{"P end, Q start", "P: [{at: 3 ft, rails: both}]", "P @ 3 to Q @ 0: |0 |0"},
		{"P start, Q end", "P: [{at: start, rails: right}]", "P @ 0 to Q @ 3: = |0"},
		{"P start, Q end", "Q: [{at: end, rails: right}]", "P @ 0 to Q @ 3: = |0"},
		{"P end, Q end", "P: [{at: end, rails: left}]", "P @ 3 to Q @ 3, turned: |0 ="},
		{"P end, Q end", "Q: [{at: end, rails: left}]", "P @ 3 to Q @ 3, turned: = |0"},
		{"P start, Q start", "P: [{at: 0, rails: right}]", "P @ 0 to Q @ 0, turned: = |0"},
		{"P start, Q start", "Q: [{at: start, rails: right}]", "P @ 0 to Q @ 0, turned: |0 ="},
		{"P start, Q start", "Q: [{at: start, rails: right}, {at: start, rails: left}]", "P @ 0 to Q @ 0, turned: |0 |1"},
	} {
		t.Run(tt.meeting+" "+tt.gap, func(t *testing.T) {
			c := build(t, head+"defaults: {gap: {kind: insulated}, joint: {kind: soldered}}\ntracks:\n"+tracks[tt.meeting]+"gaps: {"+tt.gap+"}\n")
			check(t, meetings(c), tt.want)
			w := joints(c)[0]
			for rail := range w.Metal {
				joinedRails(t, c, w, rail)
			}
		})
	}
}

// joints are the ways that lead from piece to piece.
func joints(c *circuit.Circuit) []*circuit.Way {
	var ways []*circuit.Way
	for i := range c.Ways {
		w := &c.Ways[i]
		between := c.Spots[w.A].Piece != c.Spots[w.B].Piece || w.Kind != circuit.WayTrack && (c.Spots[w.A].End >= 0 || c.Spots[w.A].At != c.Spots[w.B].At)
		if (w.Kind == circuit.WayJoint || w.Kind == circuit.WayCut) && between {
			ways = append(ways, w)
		}
	}
	return ways
}

// meetings tells every joint, a joint a line, sorted.
func meetings(c *circuit.Circuit) string {
	var lines []string
	for _, w := range joints(c) {
		lines = append(lines, jointText(c, w))
	}
	slices.Sort(lines)
	return strings.Join(lines, "\n")
}

// joinedRails sees that a way's metal is there as a conductor, on the rails it says.
func joinedRails(t *testing.T, c *circuit.Circuit, w *circuit.Way, rail int) {
	t.Helper()
	if (w.Metal[rail] == circuit.Open) != (w.Rails[rail] < 0) {
		t.Fatalf("%s: metal %d, conductor %d", jointText(c, w), w.Metal[rail], w.Rails[rail])
	}
	if w.Rails[rail] < 0 {
		return
	}
	across := rail
	if w.Turned {
		across = 1 - rail
	}
	k := c.Conductors[w.Rails[rail]]
	if k.A != c.Spots[w.A].Node[rail] || k.B != c.Spots[w.B].Node[across] || k.Sure != (w.Metal[rail] == circuit.Joined) || k.Device >= 0 {
		t.Errorf("%s: the %s rail is %+v", jointText(c, w), railWord[rail], k)
	}
}

// Joints of bodies on a track, with what stands there typed by every name of the joint.
func TestBodyJoints(t *testing.T) {
	const defaults = "defaults: {gap: {kind: insulated}, joint: {kind: soldered}, turnout: {hand: right, length: 6 in, wiring: dead-frog, jumpers: yes}}\n"
	// T stands on M, walked with the track or against it.
	along := defaults + "turnouts:\n  T: {at: M @ 2 ft, via: points to straight}\ntracks:\n  M: {from: end, to: end, length: 5 ft}\n  L: {from: T curved, to: end, length: 1 ft}\n"
	against := strings.Replace(along, "points to straight", "straight to points", 1)
	// two bodies touch: T with the track, U against it
	touching := defaults + "turnouts:\n  T: {at: M @ 2 ft, via: points to straight}\n  U: {at: M @ 2 ft 6 in, via: straight to points}\n" +
		"tracks:\n  M: {from: end, to: end, length: 5 ft}\n  L: {from: T curved, to: end, length: 1 ft}\n  K: {from: U curved, to: end, length: 1 ft}\n"
	// T begins where M does, and M begins at the end of N
	atStart := defaults + "turnouts:\n  T: {at: M @ 0, via: straight to points}\n" +
		"tracks:\n  M: {from: N end, to: end, length: 5 ft}\n  L: {from: T curved, to: end, length: 1 ft}\n  N: {from: end, to: M start, length: 1 ft}\n"
	// T ends where M does, like ends
	atEnd := defaults + "turnouts:\n  T: {at: M @ 4 ft 6 in, via: straight to points}\n" +
		"tracks:\n  M: {from: end, to: N end, length: 5 ft}\n  L: {from: T curved, to: end, length: 1 ft}\n  N: {from: end, to: M end, length: 1 ft}\n"
	// T passes the start of a ring and touches U, which is walked against it
	overStart := defaults + "turnouts:\n  T: {at: M @ 9 ft 9 in, via: points to straight}\n  U: {at: M @ 3 in, via: straight to points}\n" +
		"tracks:\n  M: {closed: yes, length: 10 ft}\n  L: {from: T curved, to: end, length: 1 ft}\n  K: {from: U curved, to: end, length: 1 ft}\n"
	// T alone passes the start of a ring
	aloneOverStart := defaults + "turnouts:\n  T: {at: M @ 9 ft 9 in, via: points to straight}\n" +
		"tracks:\n  M: {closed: yes, length: 10 ft}\n  L: {from: T curved, to: end, length: 1 ft}\n"
	for _, tt := range []struct{ name, text, want string }{
		{"alone over a ring's start", aloneOverStart + "gaps: {M: [{at: 3 in, rails: left}]}\njoints: {T: [{at: points, kind: unknown}]}", `
T curved to L @ 0: = =
T points to M @ 9.75: ? ?
T straight to M @ 0.25: |0 =`},
		{"none", along, `
T curved to L @ 0: = =
T points to M @ 2: = =
T straight to M @ 2.5: = =`},
		{"by the track, first edge", along + "gaps: {M: [{at: 2 ft, rails: left}]}", `
T curved to L @ 0: = =
T points to M @ 2: |0 =
T straight to M @ 2.5: = =`},
		{"by the piece, second edge", along + "gaps: {T: [{at: straight, rails: left}]}", `
T curved to L @ 0: = =
T points to M @ 2: = =
T straight to M @ 2.5: |0 =`},
		{"inner rail of a leg", along + "gaps: {T: [{at: straight, rails: inner}, {at: curved, rails: inner}]}", `
T curved to L @ 0: |1 =
T points to M @ 2: = =
T straight to M @ 2.5: = |0`},
		{"against the track, by the track", against + "gaps: {M: [{at: 2 ft, rails: left}, {at: 2 ft 6 in, rails: left}]}", `
T curved to L @ 0: = =
T points to M @ 2.5, turned: = |1
T straight to M @ 2, turned: = |0`},
		{"against the track, by the piece", against + "gaps: {T: [{at: straight, rails: left}, {at: points, rails: left}]}", `
T curved to L @ 0: = =
T points to M @ 2.5, turned: |1 =
T straight to M @ 2, turned: |0 =`},
		{"a joint's kind by either name", against + "joints: {T: [{at: straight, rails: left, kind: unknown}], M: [{at: 2 ft 6 in, rails: left, kind: unknown}]}", `
T curved to L @ 0: = =
T points to M @ 2.5, turned: = ?
T straight to M @ 2, turned: ? =`},
		{"touching, by the first piece", touching + "gaps: {T: [{at: straight, rails: left}]}", `
T curved to L @ 0: = =
T points to M @ 2: = =
T straight to M @ 2.5: = =
U curved to K @ 0: = =
U points to M @ 3, turned: = =
U straight to M @ 2.5, turned: = |0`},
		{"touching, by the second piece", touching + "gaps: {U: [{at: straight, rails: left}]}", `
T curved to L @ 0: = =
T points to M @ 2: = =
T straight to M @ 2.5: = =
U curved to K @ 0: = =
U points to M @ 3, turned: = =
U straight to M @ 2.5, turned: |0 =`},
		{"touching, by the track", touching + "gaps: {M: [{at: 2 ft 6 in, rails: left}]}", `
T curved to L @ 0: = =
T points to M @ 2: = =
T straight to M @ 2.5: = =
U curved to K @ 0: = =
U points to M @ 3, turned: = =
U straight to M @ 2.5, turned: = |0`},
		{"touching, the kind of the one joint", touching + "joints: {T: [{at: straight, kind: unknown}]}", `
T curved to L @ 0: = =
T points to M @ 2: = =
T straight to M @ 2.5: = =
U curved to K @ 0: = =
U points to M @ 3, turned: = =
U straight to M @ 2.5, turned: ? ?`},
		{"at the start, by the body", atStart + "gaps: {T: [{at: straight, rails: left}]}", `
M @ 0 to N @ 1: = |0
T curved to L @ 0: = =
T points to M @ 0.5, turned: = =
T straight to M @ 0, turned: = =`},
		{"at the start, by the track", atStart + "gaps: {M: [{at: start, rails: left}]}", `
M @ 0 to N @ 1: |0 =
T curved to L @ 0: = =
T points to M @ 0.5, turned: = =
T straight to M @ 0, turned: = =`},
		{"at the start, by what it meets", atStart + "gaps: {N: [{at: end, rails: left}]}", `
M @ 0 to N @ 1: |0 =
T curved to L @ 0: = =
T points to M @ 0.5, turned: = =
T straight to M @ 0, turned: = =`},
		{"at the end, by the body", atEnd + "gaps: {T: [{at: points, rails: left}]}", `
M @ 5 to N @ 1, turned: = |0
T curved to L @ 0: = =
T points to M @ 5, turned: = =
T straight to M @ 4.5, turned: = =`},
		{"at the end, by what it meets", atEnd + "gaps: {N: [{at: end, rails: left}]}", `
M @ 5 to N @ 1, turned: = |0
T curved to L @ 0: = =
T points to M @ 5, turned: = =
T straight to M @ 4.5, turned: = =`},
		{"over a ring's start, by the first piece", overStart + "gaps: {T: [{at: straight, rails: left}]}", `
T curved to L @ 0: = =
T points to M @ 9.75: = =
T straight to M @ 0.25: = =
U curved to K @ 0: = =
U points to M @ 0.75, turned: = =
U straight to M @ 0.25, turned: = |0`},
		{"over a ring's start, by the second piece", overStart + "gaps: {U: [{at: straight, rails: left}]}", `
T curved to L @ 0: = =
T points to M @ 9.75: = =
T straight to M @ 0.25: = =
U curved to K @ 0: = =
U points to M @ 0.75, turned: = =
U straight to M @ 0.25, turned: |0 =`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := build(t, head+tt.text)
			check(t, meetings(c), tt.want)
			for _, w := range joints(c) {
				joinedRails(t, c, w, 0)
				joinedRails(t, c, w, 1)
			}
		})
	}
}

// Where a body touches the end of its track, one untrusted joint is one joint, and a
// soldered one conducts.
func TestTouchingBodyIsOneJoint(t *testing.T) {
	text := head + `turnouts:
  T: {hand: right, length: 6 in, wiring: dead-frog, jumpers: yes, at: M @ 0, via: points to straight}
tracks:
  M: {from: N end, to: end, length: 5 ft}
  L: {from: T curved, to: end, length: 1 ft}
  N: {from: end, to: M start, length: 1 ft}
`
	c := build(t, text)
	if got := together(t, c, "N end left", "T points left"); got != "perhaps" {
		t.Errorf("nothing said of the joint: %s", got)
	}
	c = build(t, text+"joints: {T: [{at: points, kind: soldered}]}")
	if got := together(t, c, "N end left", "T points left"); got != "yes" {
		t.Errorf("soldered: %s", got)
	}
}

// The kind of a joint that no entry names.
func TestDefaultJoints(t *testing.T) {
	const outer = head + "include: [%s]\ndefaults: {joint: {kind: %s}}\ntracks: {P: {from: end, to: Q start, length: 1 ft}}\npractice: [%s]\n"
	const inner = "gapwise: 1\nmodule: m\ndefaults: {joint: {kind: %s}}\ntracks: {Q: {from: P end, to: end, length: 1 ft}}\n"
	for _, tt := range []struct{ outer, inner, practice, want string }{
		{"soldered", "soldered", "feeder-every-6-ft", "yes"},
		{"soldered", "plain", "feeder-every-6-ft", "yes"},
		{"soldered", "plain", "joiners-not-trusted", "perhaps"},
		{"plain", "soldered", "joiners-not-trusted", "perhaps"},
		{"soldered", "soldered", "joiners-not-trusted", "yes"},
		{"soldered", "unknown", "feeder-every-6-ft", "perhaps"},
		{"unknown", "plain", "feeder-every-6-ft", "perhaps"},
	} {
		t.Run(tt.outer+" to "+tt.inner+", "+tt.practice, func(t *testing.T) {
			c := buildFiles(t, map[string]string{
				"layout.yaml": fmt.Sprintf(outer, "m.yaml", tt.outer, tt.practice),
				"m.yaml":      fmt.Sprintf(inner, tt.inner),
			})
			for _, rail := range railWord {
				if got := together(t, c, "P end "+rail, "Q start "+rail); got != tt.want {
					t.Errorf("%s rail: %s, want %s", rail, got, tt.want)
				}
			}
		})
	}
}

// The end joints of a track that lifts out are unknown; those of a body on it are not.
func TestLiftOut(t *testing.T) {
	const text = head + `defaults: {joint: {kind: soldered}, gap: {kind: insulated}}
turnouts:
  T: {hand: right, length: 6 in, wiring: dead-frog, jumpers: yes, at: G @ 1 ft, via: points to straight}
tracks:
  H: {from: end, to: G start, length: 1 ft}
  G: {from: H end, to: K start, length: 2 ft, lift-out: yes}
  K: {from: G end, to: end, length: 1 ft}
  L: {from: T curved, to: end, length: 1 ft}
`
	for _, tt := range []struct{ text, want string }{
		{"", `
G @ 2 to K @ 0: ? ?
H @ 1 to G @ 0: ? ?
T curved to L @ 0: = =
T points to G @ 1: = =
T straight to G @ 1.5: = =`},
		{"gaps: {G: [start, {at: end, rails: left}]}", `
G @ 2 to K @ 0: |1 ?
H @ 1 to G @ 0: |0 |0
T curved to L @ 0: = =
T points to G @ 1: = =
T straight to G @ 1.5: = =`},
		{"joints: {K: [{at: start, kind: soldered}]}", `
G @ 2 to K @ 0: = =
H @ 1 to G @ 0: ? ?
T curved to L @ 0: = =
T points to G @ 1: = =
T straight to G @ 1.5: = =`},
	} {
		t.Run(tt.text, func(t *testing.T) {
			c := build(t, strings.Replace(text, "gap: {kind: insulated}", "gap: {kind: insulated, rails: both}", 1)+tt.text)
			check(t, meetings(c), tt.want)
		})
	}
}

// A ring's end meets its own start, and a track may tie both its ends to one turnout.
func TestJointsOfOnePiece(t *testing.T) {
	for _, tt := range []struct{ name, text, want string }{
		{"ring", "tracks: {R: {closed: yes, length: 20 ft}}", "R @ 0 to R @ 20: = ="},
		{"ring cut at its start", "tracks: {R: {closed: yes, length: 20 ft}}\ngaps: {R: [{at: start, rails: left}]}", "R @ 0 to R @ 20: |0 ="},
		{"ring cut at its end", "tracks: {R: {closed: yes, length: 20 ft}}\ngaps: {R: [{at: end, rails: right}]}", "R @ 0 to R @ 20: = |0"},
		{"balloon", "turnouts: {T: {hand: left, length: 11 in, wiring: dead-frog, jumpers: yes}}\ntracks:\n  L: {from: end, to: T points, length: 1 ft}\n  BL: {from: T straight, to: T curved, length: 9 ft}\ngaps: {BL: [{at: end, rails: left}]}", `
T curved to BL @ 9, turned: = |0
T points to L @ 1: = =
T straight to BL @ 0: = =`},
		{"piece to piece", "turnouts:\n  T: {hand: left, length: 11 in, wiring: dead-frog, jumpers: yes}\n  U: {like: T}\njoins: [[T curved, U curved]]\ntracks:\n  A1: {from: end, to: T points, length: 1 ft}\n  A2: {from: T straight, to: end, length: 1 ft}\n  A3: {from: end, to: U points, length: 1 ft}\n  A4: {from: U straight, to: end, length: 1 ft}\ngaps: {U: [{at: curved, rails: left}]}", `
T curved to U curved, turned: = |0
T points to A1 @ 1: = =
T straight to A2 @ 0: = =
U points to A3 @ 1: = =
U straight to A4 @ 0: = =`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			check(t, meetings(build(t, head+"defaults: {joint: {kind: soldered}, gap: {kind: insulated}}\n"+tt.text)), tt.want)
		})
	}
}
