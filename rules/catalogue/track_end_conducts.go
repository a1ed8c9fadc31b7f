package catalogue

import (
	"fmt"
	"slices"
	"strconv"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// warmBumper is what a bumper may turn to heat, in watts. Common practice, no source.
const warmBumper = 1.0

// bumperKind is the word for a bumper under `loads`.
const bumperKind = "bumper"

var trackEndConducts = rule.Rule{
	ID:       "track-end-conducts",
	Severity: finding.Fault,
	Title:    "the bumper at a track's end joins its rails",
	Doc: rule.Doc{
		What:    "A load of kind bumper, or one at a track's `bumper` end, has a known resistance, and its rails are fed. It is a fault where it takes as much current as what feeds the track trips at, a caution where it turns 1 W or more into heat, and silent above that. The highest volts and the lowest ohms of a range count. A bumper of unknown resistance is listed as not checked, and so is one where the layout does not say the volts or the trip current that decide. Whether the bare ends of two tracks touch, a layout file cannot say.",
		Why:     "A cast bumper joins leg A to leg B across the end of the track.",
		Fix:     "Cut both rails before the bumper, or use one that does not conduct.",
		Example: "tracks:\n  spur: {from: T1 curved, to: bumper, length: 4 ft}\nloads:\n  - {at: spur @ end, kind: bumper, resistance: 2 Ω}",
	},
	Sources: []string{"Ohm's law with the layout's own volts and trip current; 1 W is " + rule.CommonPractice},
}

func init() { trackEndConducts.Check = checkTrackEndConducts }

func checkTrackEndConducts(c *rule.Case) {
	for i := range c.L.Loads {
		x := &c.L.Loads[i]
		if !x.OnRail || !x.Resistance.Known() || x.Place.Piece < 0 {
			continue
		}
		if p := &x.Place; p.End < 0 && c.L.Pieces[p.Piece].Kind == layout.TrackPiece && !p.At.Known() {
			if x.Kind == bumperKind {
				c.LeaveOpen("whether the bumper at "+p.Text+" joins the rails of a live track", "it is measured from the end of a track whose length is unknown", x.Pos)
			}
			continue
		}
		at, ok := c.T.At(x.Place)
		if !ok || (x.Kind != bumperKind && !bumperEnd(c, at.Spot)) {
			continue
		}
		if from, settings, ok := c.T.OppositeLegs(at.Spot); ok {
			bumper(c, int32(i), from[0].Source, settings)
		}
	}
}

// bumperEnd reports whether a spot is the end of a track at a bumper.
func bumperEnd(c *rule.Case, spot int32) bool {
	piece := c.C.Spots[spot].Piece
	end := slices.Index(c.C.EndSpot[piece], spot)
	return end >= 0 && c.L.Pieces[piece].Ends[end].Dead == layout.Bumper
}

// bumper holds one bumper against the source that feeds its track.
func bumper(c *rule.Case, load, source int32, settings []districts.Setting) {
	x := &c.L.Loads[load]
	place := c.Place(x.Place)
	guard, guarded := protectionOf(c, source)
	boost := c.C.Sources[source].Booster
	if boost < 0 || c.C.Sources[boost].Kind != circuit.BoosterSource || !c.L.Boosters[c.C.Sources[boost].Ref].Volts.Known() {
		c.LeaveOpen("what the bumper at "+place.Text+" takes", "the layout does not say the volts on its track", x.Pos)
		return
	}
	volts := c.L.Boosters[c.C.Sources[boost].Ref].Volts
	f := finding.Finding{
		Pos:      x.Pos,
		Place:    place,
		Settings: c.Settings(settings),
		Fix:      "cut both rails before the bumper, or use one that does not conduct",
		Mends:    bumperMends(c, load),
		Witness:  append(c.WitnessTo(spotOf(c, x), layout.Left), finding.Step{Text: "bumper at " + place.Text + ", " + x.Resistance.String(), Pos: x.Pos}),
	}
	amps := volts.Hi / x.Resistance.Lo
	watts := volts.Hi * amps
	f.Numbers = []finding.Number{{Name: "current through the bumper", Text: twoFigures(amps, "A"), SI: amps, Unit: "A"}, {Name: "heat", Text: twoFigures(watts, "W"), SI: watts, Unit: "W", Limit: "below 1 W", Source: rule.CommonPractice}}
	switch {
	case watts < warmBumper:
		return
	case guarded && guard.trips.Known() && amps >= guard.trips.Lo:
		f.Severity = finding.Fault
		f.Message = fmt.Sprintf("the bumper at %s joins the rails through %s: %s at %s, and %s trips at %s", place.Text, x.Resistance, f.Numbers[0].Text, volts, guard.name, guard.trips)
		f.Why = "it shorts the booster as soon as the track is switched on"
		f.Numbers[0].Limit, f.Numbers[0].Source = "below "+guard.trips.String(), guard.name+", yours"
	default:
		f.Severity = finding.Caution
		f.Message = fmt.Sprintf("the bumper at %s joins the rails through %s: it takes %s and turns %s into heat", place.Text, x.Resistance, f.Numbers[0].Text, f.Numbers[1].Text)
		f.Why = "it gets hot enough to melt plastic, and what it takes no train has"
		if !guarded || !guard.trips.Known() {
			c.LeaveOpen("whether the bumper at "+place.Text+" trips what feeds it", "the layout does not say at what current that trips", x.Pos)
		}
	}
	c.Report(f)
}

// twoFigures prints a value to two figures: "0.3 A", "140 A", "2 kW".
func twoFigures(v float64, unit string) string {
	digits, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', 1, 64), 64)
	if err == nil && digits >= 1000 {
		digits, unit = digits/1000, "k"+unit
	}
	return strconv.FormatFloat(digits, 'f', -1, 64) + " " + unit
}

// spotOf is the spot at a load's place.
func spotOf(c *rule.Case, x *layout.Load) int32 {
	at, _ := c.T.At(x.Place)
	return at.Spot
}
