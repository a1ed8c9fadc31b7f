package reports

import (
	"fmt"
	"strings"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts/partition"
	"gapwise/rules/rule"
	"gapwise/rules/split"
)

// SplitView is the division of one layout, ready to be written.
type SplitView struct {
	File, Name string
	With       string // boosters, breakers
	Outcome    string // found, impossible, unknown
	From       string
	Margin     float64
	Total      float64 // amperes
	Most       int
	Fewest     bool
	Why, Give  []string
	Terms      []SplitTerm
	Districts  []SplitDistrict
	Cuts       []SplitCut
	Devices    []string
	Buses      []SplitBus
	Moves      []SplitMove
	Feeders    []SplitFeeder
	LeftOut    []SplitLeftOut
	Notes      []string
	Refused    []string
	Brought    []SplitFinding
	Gone, Stay int
	Checked    bool
	Work       int64
	Nodes      int

	margin, marginSource, total string
}

// SplitTerm is one aim with what of it is proved.
type SplitTerm struct {
	Term   string `json:"term"`
	Value  int64  `json:"value"`
	Unit   string `json:"unit"`
	Bound  int64  `json:"bound"`
	Proven bool   `json:"proven"`

	text string
}

// SplitDistrict is one district.
type SplitDistrict struct {
	District string   `json:"district"`
	Device   string   `json:"device"`
	New      bool     `json:"new_device"`
	Blocks   []string `json:"blocks"`
	Tracks   []string `json:"tracks"`
	TrackM   float64  `json:"track_m"`
	LoadA    float64  `json:"load_a"`
	MayA     float64  `json:"may_draw_a"`
	RatingA  float64  `json:"rating_a"`
	Trains   int      `json:"trains"`
	ShortA   *float64 `json:"weakest_short_a"`
	ShortAt  string   `json:"weakest_short_at"`
	DropV    *float64 `json:"worst_drop_v"`
	DropAt   string   `json:"worst_drop_at"`

	track, load, may, short, drop string
}

// SplitCut is a place where both rails are cut.
type SplitCut struct {
	Place string  `json:"place"`
	Piece string  `json:"piece"`
	Rails string  `json:"rails"` // both, left, right
	AtM   float64 `json:"at_m"`
	Why   string  `json:"why"`
}

// SplitBus is a bus to be laid, or to be hung from elsewhere (then Was says from what it hangs now).
type SplitBus struct {
	Bus      string  `json:"bus"`
	From     string  `json:"from"`
	Was      string  `json:"was"`
	Wire     string  `json:"wire"`
	Metres   float64 `json:"length_m"`
	New      bool    `json:"new"`
	District string  `json:"district"`

	length string
}

// SplitMove is a feeder or a device that hangs from another tap.
type SplitMove struct {
	What     string `json:"what"`
	From     string `json:"from"`
	To       string `json:"to"`
	District string `json:"district"`
}

// SplitFeeder is a feeder to be added.
type SplitFeeder struct {
	Place    string `json:"place"`
	From     string `json:"from"`
	A        string `json:"a"`
	Wire     string `json:"wire"`
	District string `json:"district"`
}

// SplitLeftOut is where no cut was thought of, and why.
type SplitLeftOut struct {
	Where string `json:"where"`
	Why   string `json:"why"`
}

// SplitFinding is a fault or caution that the division brings.
type SplitFinding struct {
	Severity string `json:"severity"`
	Rule     string `json:"rule"`
	Place    string `json:"place"`
	Message  string `json:"message"`
	Fix      string `json:"fix"`
}

// NewSplitView prepares a division for writing. file is what the user named.
func NewSplitView(file string, a *split.Answer) *SplitView {
	v := &SplitView{
		File: file, Name: a.Layout.Name, With: a.With.String(), From: a.From, Margin: a.Ask.Margin, Total: float64(a.Total) / 1000, Most: a.Most, Fewest: a.Fewest,
		Outcome: [...]string{partition.Found: "found", partition.Impossible: "impossible", partition.Unknown: "unknown"}[a.Feasible],
		Why:     some(a.Why), Give: some(a.Give), Terms: []SplitTerm{}, Districts: []SplitDistrict{}, Cuts: []SplitCut{}, Devices: some(a.Devices), Buses: []SplitBus{}, Moves: []SplitMove{},
		Feeders: []SplitFeeder{}, LeftOut: []SplitLeftOut{}, Notes: some(a.Notes), Refused: some(a.Refused), Brought: []SplitFinding{}, Gone: a.Gone, Stay: a.Stay, Checked: a.After != nil, Work: a.Work, Nodes: a.Nodes,
		margin: quantity.FormatPercent(100 * a.Ask.Margin), marginSource: "yours", total: quantity.FormatCurrent(float64(a.Total) / 1000),
	}
	if a.Ask.Margin == split.DefaultMargin {
		v.marginSource = rule.CommonPractice
	}
	for _, t := range a.Terms {
		v.Terms = append(v.Terms, splitTerm(t))
	}
	for i := range a.Districts {
		v.Districts = append(v.Districts, splitDistrict(&a.Districts[i]))
	}
	for _, c := range a.Cuts {
		v.Cuts = append(v.Cuts, SplitCut{c.Text, a.Layout.Tracks[c.Track].Name, layout.RailSetWords[c.Rails], c.At, c.Why})
	}
	for _, b := range a.Buses {
		v.Buses = append(v.Buses, SplitBus{b.Name, b.From, b.Was, b.Wire, b.Metres, b.New, b.District, quantity.FormatLength(b.Metres)})
	}
	for _, m := range a.Moves {
		v.Moves = append(v.Moves, SplitMove(m))
	}
	for _, f := range a.Feeders {
		v.Feeders = append(v.Feeders, SplitFeeder(f))
	}
	for _, l := range a.LeftOut {
		v.LeftOut = append(v.LeftOut, SplitLeftOut(l))
	}
	for i := range a.Brought {
		f := &a.Brought[i]
		v.Brought = append(v.Brought, SplitFinding{f.Severity.String(), f.Rule, f.Place.Text, f.Message, f.Fix})
	}
	return v
}

func splitTerm(t split.Term) SplitTerm {
	out := SplitTerm{Term: t.Term.String(), Value: t.Value, Bound: t.Bound, Proven: t.Proven}
	say := func(n int64) string { return counted(int(n), "new cut", "new cuts") }
	switch t.Term {
	case partition.Trains:
		out.Unit = "trains"
		say = func(n int64) string { return counted(int(n), "train", "trains") + " stopped by one short at the most" }
	case partition.Bus:
		out.Unit = "mm"
		say = func(n int64) string {
			return quantity.FormatLength(float64(n)/1000) + " of bus to the nearest track of each"
		}
	default:
		out.Unit = "places"
	}
	out.text = say(t.Value)
	switch {
	case t.Proven:
		out.text += ": proved, no other division at the places thought of does better"
	case t.Bound == t.Value:
		out.text += ": the best found"
	default:
		out.text += fmt.Sprintf(": the best found; no division has less than %s", strings.TrimSuffix(say(t.Bound), " at the most"))
	}
	return out
}

func splitDistrict(d *split.District) SplitDistrict {
	out := SplitDistrict{
		District: d.Name, Device: d.Device.Text(), New: d.Device.New(), Blocks: some(d.Blocks), Tracks: some(d.Tracks), TrackM: d.Metres,
		LoadA: float64(d.Load) / 1000, MayA: float64(d.May) / 1000, RatingA: d.Device.Amps, Trains: d.Trains, ShortAt: d.Short.Place, DropAt: d.Drop.Place,
		track: quantity.FormatLength(d.Metres), load: quantity.FormatCurrent(float64(d.Load) / 1000), may: quantity.FormatCurrent(float64(d.May) / 1000),
		short: d.Short.Text, drop: d.Drop.Text,
	}
	if d.Short.Text != "" {
		out.ShortA = finite(d.Short.Value)
	}
	if d.Drop.Text != "" {
		out.DropV = finite(d.Drop.Value)
	}
	return out
}

// headline says in a sentence what came of the division.
func (v *SplitView) headline() string {
	switch v.Outcome {
	case "impossible":
		return "this division is impossible"
	case "unknown":
		return "no division was found before the bound on work was reached"
	}
	text := counted(len(v.Districts), "district does", "districts")
	switch {
	case v.Fewest && len(v.Districts) > 1:
		text += ", and fewer are proved impossible"
	case !v.Fewest && v.Most > len(v.Districts):
		text += fmt.Sprintf(" of %d", v.Most)
	}
	return text
}
