package difference

import (
	"fmt"
	"strings"

	"gapwise/netlist/layout"
)

// device writes down supplies, boosters, what hangs from them, and buses.
func (r *record) device(k Kind, i int32) {
	l := r.side.l
	switch k {
	case KindSupply:
		x := &l.Supplies[i]
		r.volts("volts", x.Volts)
		r.amps("rating", x.Rating)
		r.value("tolerance", x.Tolerance.Value, x.Tolerance.String())
		r.yesNo("listed", x.Listed)
	case KindBooster:
		r.booster(&l.Boosters[i])
	case KindCommon:
		x := &l.Commons[i]
		r.entries("joins", KindBooster, x.Joins)
		r.wire("wire", x.Wire)
		r.length("length", x.Length)
	case KindCab:
		r.volts("volts", l.Cabs[i].Volts)
		r.amps("rating", l.Cabs[i].Rating)
	case KindBreaker:
		x := &l.Breakers[i]
		r.from("from", x.From)
		r.amps("trips-at", x.TripsAt)
		r.seconds("trip-time", x.TripTime)
		r.ohms("resistance", x.Resistance)
		r.word("opens", layout.OpensWords[x.Opens])
	case KindReverser:
		x := &l.Reversers[i]
		r.from("from", x.From)
		r.amps("trips-at", x.TripsAt)
		r.seconds("trip-time", x.TripTime)
		r.ohms("resistance", x.Resistance)
		r.word("opens", layout.OpensWords[x.Opens])
		r.word("switching", [...]string{"", "automatic", "by-hand", "unknown"}[x.Switching])
		r.word("serves", map[bool]string{true: "one-at-a-time"}[x.OneAtATime])
	case KindDetector:
		x := &l.Detectors[i]
		r.from("from", x.From)
		r.word("leg", x.Leg.String())
		r.word("senses", x.Senses)
		r.volts("drop", x.Drop)
		r.ohms("sees", x.Sees)
	case KindInLine:
		r.inLine(&l.InLines[i])
	case KindChangeover:
		r.changeover(&l.Changeovers[i])
	case KindPlug:
		x := &l.Plugs[i]
		r.from("from", x.From)
		r.word("legs", [...]string{"", "straight", "crossed", "either", "unknown"}[x.Legs])
		r.ohms("resistance", x.Resistance)
		r.amps("rating", x.Rating)
	case KindBus:
		r.bus(&l.Buses[i])
	}
}

func (r *record) booster(x *layout.Booster) {
	r.entry("supply", KindSupply, x.Supply)
	r.volts("volts", x.Volts)
	r.ohms("inside", x.Inside)
	r.amps("rating", x.Rating)
	r.amps("trips-at", x.TripsAt)
	r.seconds("trip-time", x.TripTime)
	r.seconds("retry", x.Retry)
	r.word("signal", x.Signal)
	r.word("signal-wired", [...]string{"", "straight", "crossed", "unknown"}[x.SignalWired])
	r.yesNo("isolated", x.Isolated)
	r.word("common", [...]string{"", "required", "forbidden", "unknown"}[x.Common])
	r.word("reverses itself", map[bool]string{true: "yes", false: "no"}[x.Automatic])
	r.word("use", x.Use.String())
}

func (r *record) inLine(x *layout.InLine) {
	r.from("from", x.From)
	r.word("kind", layout.InLineKindWords[x.Kind])
	r.word("legs", layout.OpensWords[x.Legs])
	r.amps("rating", x.Rating)
	r.amps("holds", x.Holds)
	r.amps("trips-at", x.TripsAt)
	r.amps("limits-to", x.LimitsTo)
	r.ohms("resistance", x.Resistance)
}

func (r *record) changeover(x *layout.Changeover) {
	r.word("opens", layout.OpensWords[x.Opens])
	r.word("throw", throwWords[x.Throw])
	r.entry("throws-with", KindPiece, int32(x.ThrowsWith))
	for i := range x.Positions {
		p := &x.Positions[i]
		key := "position " + p.Name
		r.from(key, p.From)
		r.word(key+" crossed", map[bool]string{true: "yes", false: "no"}[p.Crossed])
	}
}

func (r *record) bus(x *layout.Bus) {
	r.from("from", x.From)
	r.word("legs", [...]string{"both", "A", "B"}[x.Legs])
	r.wire("wire", x.Wire)
	r.length("length", x.Length)
	r.word("laid", [...]string{"", "twisted", "apart", "unknown"}[x.Laid.Kind])
	if x.Laid.Kind == layout.LaidApart {
		r.length("laid apart", x.Laid.Spacing)
	}
	for _, b := range x.Beside {
		r.entry("beside", KindBus, b.Bus)
		r.length("beside it", b.Spacing)
	}
	r.tap("returns", x.Returns)
	r.word("use", [...]string{"track", "accessories", "lighting"}[x.Use])
	r.under(x.Under)
}

// under is what a bus runs below.
func (r *record) under(us []layout.Under) {
	var words, texts []string
	f := field{key: "under", loose: true}
	for i := range us {
		u := &us[i]
		at := "all along"
		if u.AtKnown {
			at = u.At.Both()
			f.numbers = append(f.numbers, u.At.Lo, u.At.Hi)
		}
		if u.Block >= 0 {
			words, texts = append(words, r.side.token(KindBlock, u.Block)), append(texts, at+": block "+r.side.l.Blocks[u.Block].Name)
			continue
		}
		w, n := r.side.covered(false, layout.CommonRail{Of: []layout.Stretch{u.Stretch}})
		words, f.numbers = append(words, w...), append(f.numbers, n...)
		texts = append(texts, at+": "+u.Stretch.Text)
	}
	f.words, f.text = fmt.Sprint(words), listText(texts)
	if len(texts) > 4 {
		f.text = strings.Join(texts[:4], ", ") + fmt.Sprintf(" and %d more", len(texts)-4)
	}
	r.fields = append(r.fields, f)
}

var throwWords = [...]string{"", "break-first", "make-first"}
