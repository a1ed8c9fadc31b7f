package reports

import (
	"cmp"
	"slices"

	"gapwise/netlist/layout"
	"gapwise/netlist/source"

	"gapwise/districts"
	"gapwise/rules/rule"
)

// GapsView is every gap of one layout, ready to be written.
type GapsView struct {
	File string
	Name string
	// Complete says that for every gap every setting was looked at.
	Complete bool
	// Faulty says that something in the wiring is wrong, and was taken as put right.
	Faulty bool
	// Orders is how many pairs of uncertain measures leave open which comes first; their
	// middles are taken.
	Orders int
	Gaps   []Gap
	// Watch are indices into Gaps: what to fill and watch, the gravest first.
	Watch []int

	files source.Files
}

// Gap is one gap with what it does.
type Gap struct {
	Name  string `json:"name"`
	Place Place  `json:"place"`
	Spot
	Rails  string   `json:"rails"` // both, left, right
	Kind   string   `json:"kind"`  // insulated, expansion
	Joint  string   `json:"joint"` // of an expansion gap: cut, sliding, bonded
	WidthM *float64 `json:"width_m"`
	Fill   string   `json:"fill"` // "" unsaid, "none" nothing
	Parts  GapParts `json:"parts"`
	// Wheel is what a wheel that bridges it does, Closing what happens when the rails creep
	// together: the gravest, and in the Also what else.
	Wheel       GapEffect   `json:"wheel"`
	WheelAlso   []GapEffect `json:"wheel_also"`
	Closing     GapEffect   `json:"closing"`
	ClosingAlso []GapEffect `json:"closing_also"`
	Watch       int         `json:"watch"`  // its number in the list to fill and watch, 0 not there
	Advice      string      `json:"advice"` // what to do about its filling
	Complete    bool        `json:"complete"`
}

// GapParts is what a gap keeps apart: two lists each, in walking order of the track. A list
// is empty where the gap parts no such thing.
type GapParts struct {
	Districts [2][]string `json:"districts"`
	Blocks    [2][]string `json:"blocks"`
	Detectors [2][]string `json:"detectors"`
	Reversing string      `json:"reversing"` // the source of a reversing section on one side
	Text      string      `json:"text"`
}

// GapEffect is one thing that joining the rails across a gap does.
type GapEffect struct {
	Verdict  string   `json:"verdict"`
	Between  []string `json:"between"`  // what comes together
	Settings []string `json:"settings"` // in which it does; empty for always
	Standing bool     `json:"standing"` // only where a vehicle stands: no train runs over it in these settings
	Frog     bool     `json:"frog"`     // only under wheels on a frog
	Text     string   `json:"text"`
}

// NewGapsView works out every gap of a traced layout.
func NewGapsView(file string, c *rule.Case) *GapsView {
	v := &GapsView{File: file, Name: c.L.Name, Complete: true, Orders: len(c.L.UncertainOrders), Gaps: []Gap{}, files: c.L.Files}
	facts, faulty := c.T.GapFacts()
	v.Faulty = faulty
	for i := range facts {
		g := newGap(c, &facts[i])
		v.Complete = v.Complete && g.Complete
		v.Gaps = append(v.Gaps, g)
		if gravest(&facts[i]) >= districts.MeetsUnseen {
			v.Watch = append(v.Watch, i)
		}
	}
	slices.SortStableFunc(v.Watch, func(x, y int) int {
		return cmp.Or(-cmp.Compare(gravest(&facts[x]), gravest(&facts[y])), cmp.Compare(filled(&v.Gaps[x]), filled(&v.Gaps[y])))
	})
	for n, i := range v.Watch {
		v.Gaps[i].Watch = n + 1
	}
	return v
}

// gravest is the worst that joining a gap's rails does.
func gravest(f *districts.GapFact) districts.GapMeeting {
	if len(f.Joins) == 0 {
		return districts.MeetsItself
	}
	return f.Joins[0].Meets
}

// The words of the language for kinds of gaps and for how an expansion gap is made.
const (
	insulatedWord = "insulated"
	expansionWord = "expansion"
	cutWord       = "cut"
)

func jointWord(j layout.ExpansionJoint) string {
	switch j {
	case layout.Sliding:
		return "sliding"
	case layout.Bonded:
		return "bonded"
	default:
		return cutWord
	}
}

// filled orders gaps by how their filling is: nothing in it, unsaid, filled; a gap that is to move
// comes last.
func filled(g *Gap) int {
	switch {
	case g.Kind == expansionWord:
		return 3
	case g.Fill == "none":
		return 0
	case g.Fill == "" || g.Fill == "unknown":
		return 1
	default:
		return 2
	}
}

func newGap(c *rule.Case, f *districts.GapFact) Gap {
	gap := &c.L.Gaps[f.Gap]
	place := c.Place(gap.Place)
	g := Gap{
		Name: gap.Name, Place: Place{Piece: place.Piece, Text: place.Text}, Spot: spotOf(c.L.Files, gap.Pos),
		Rails: "both", Kind: insulatedWord, Fill: gap.Fill,
		Parts: newGapParts(c, f), WheelAlso: []GapEffect{}, ClosingAlso: []GapEffect{}, Complete: f.Whole,
	}
	if place.HasAt {
		g.Place.AtM = finite(place.AtM)
	}
	if gap.Width.Known() {
		g.WidthM = finite(gap.Width.Mid())
	}
	switch {
	case !f.Cut[layout.Right]:
		g.Rails = "left"
	case !f.Cut[layout.Left]:
		g.Rails = "right"
	}
	if gap.Kind == layout.Expansion {
		g.Kind, g.Joint = expansionWord, jointWord(gap.Joint)
	}
	var wheels, closings []GapEffect
	for i := range f.Joins {
		j := &f.Joins[i]
		if i == 0 || f.Joins[i-1].Meets != j.Meets {
			closings = append(closings, closingEffect(c, j))
		}
		if !j.Frog && j.Meets > districts.MeetsDead {
			wheels = append(wheels, wheelEffect(c, j))
		}
	}
	// what a running train does comes before what only a standing one does
	slices.SortStableFunc(wheels, func(x, y GapEffect) int {
		switch {
		case x.Standing == y.Standing:
			return 0
		case y.Standing:
			return -1
		default:
			return 1
		}
	})
	g.Wheel, g.WheelAlso = firstEffect(wheels, f.Whole, true)
	g.Closing, g.ClosingAlso = firstEffect(closings, f.Whole, false)
	g.Advice = gapAdvice(&g)
	return g
}

// nothingVerdict is the effect of a gap over which wheels, or closing, change nothing.
const nothingVerdict = "nothing"

// firstEffect parts the first effect from the rest; where there is none it says so. A wheel
// that does something only where it stands does nothing first.
func firstEffect(effects []GapEffect, whole, wheel bool) (first GapEffect, rest []GapEffect) {
	switch {
	case len(effects) > 0 && !(wheel && effects[0].Standing):
		return effects[0], effects[1:]
	case whole:
		return GapEffect{Verdict: nothingVerdict, Between: []string{}, Settings: []string{}, Text: "nothing"}, some(effects)
	default:
		return GapEffect{Verdict: "unknown", Between: []string{}, Settings: []string{}, Text: "not known: there are too many settings to look at"}, some(effects)
	}
}
