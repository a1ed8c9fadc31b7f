package oracle

import (
	"math"
	"strconv"
	"strings"
)

// interval is a quantity that lies from lo to hi.
type interval struct{ lo, hi float64 }

func exactly(v float64) interval { return interval{v, v} }

func (v interval) plus(w interval) interval     { return interval{v.lo + w.lo, v.hi + w.hi} }
func (v interval) times(w interval) interval    { return interval{v.lo * w.lo, v.hi * w.hi} }
func (v interval) scaled(by float64) interval   { return interval{v.lo * by, v.hi * by} }
func (v interval) divided(by float64) interval  { return interval{v.lo / by, v.hi / by} }
func (v interval) covering(w interval) interval { return interval{min(v.lo, w.lo), max(v.hi, w.hi)} }
func (v interval) known() bool                  { return !math.IsNaN(v.lo) }

var notKnown = interval{math.NaN(), math.NaN()}

// What joints, contacts and devices are taken for, in ohms of one contact; of breakers, reversers,
// plugs and boosters of the whole loop. Common practice, no source; the same numbers as the
// program under test, typed again.
var (
	solderedOhms  = interval{0, 0.002}
	joinerOhms    = interval{0.002, 0.2}
	slidingOhms   = interval{0.005, 0.5}
	bladeOhms     = interval{0.01, 0.5}
	contactOhms   = interval{0.01, 0.1}
	spliceOhms    = interval{0, 0.01}
	busSpliceOhms = interval{0, 0.005}
	plugOhms      = interval{0.01, 0.1}
	ringOhms      = interval{0.02, 0.5}
	detectorOhms  = interval{0, 0.1}
	detectorVolts = interval{0, 1.5}
	breakerOhms   = interval{0.02, 0.3}
	reverserOhms  = interval{0.02, 0.3}
	insideOhms    = interval{0.05, 0.5}
	lampOhms      = interval{0.3, 2}
	fuseOhms      = interval{0.01, 0.2}
	ptcOhms       = interval{0.02, 0.5}
	shortOhms     = interval{0.1, 0.5}
	roomCelsius   = interval{10, 35}
)

// What is assumed where a layout leaves out what has no default: it marks the result.
var (
	feederMetres = interval{0.1, 0.6}
	feederGauges = interval{24, 14} // thinnest, thickest
	busGauges    = interval{24, 12}
	pieceMetres  = interval{0.1, 0.5}
)

// leastOhms stands in for no resistance at all, so that every joint may be looked at apart.
const leastOhms = 1e-7

// Copper, IEC 60028 (facts.md section 1).
const (
	copperOhmMetres = 17.241e-9
	copperPerKelvin = 0.00393
	mostStranding   = 1.98 / 1.93 // NEC ch. 9 table 8, 12 AWG, seven strands to solid (T8)
)

// warmed is how much a conductor's resistance is above that at 20 °C.
func warmed(celsius, perKelvin float64) float64 { return max(0.1, 1+perKelvin*(celsius-20)) }

// wireSize is a size of wire that may be a range, in m².
type wireSize struct {
	area  interval
	gauge bool // AWG: solid or stranded
}

// gaugeArea is the area of an AWG size: 0.127 mm × 92^((36-n)/39) across (ASTM B258).
func gaugeArea(n float64) float64 {
	d := 0.127e-3 * math.Pow(92, (36-n)/39)
	return math.Pi * d * d / 4
}

func gauges(v interval) wireSize {
	return wireSize{interval{gaugeArea(v.lo), gaugeArea(v.hi)}, true}
}

// readWire reads a size as it is written: 14 AWG, 2/0 AWG, 0.75 mm², 22 .. 20 AWG.
func readWire(text string) (wireSize, bool) {
	left, right, ranged := strings.Cut(strings.ToLower(text), "..")
	if !ranged {
		right = left
	}
	isGauge := strings.Contains(right, "awg")
	one := func(s string) (float64, bool) {
		s = strings.NewReplacer("awg", "", "mm²", "", "mm2", "").Replace(s)
		s = strings.TrimSpace(s)
		if zeros, ok := strings.CutSuffix(s, "/0"); ok && isGauge {
			n, err := strconv.ParseFloat(zeros, 64)
			return gaugeArea(1 - n), err == nil
		}
		terms, err := scanTerms(s)
		if err != nil || len(terms) != 1 || terms[0].unit != "" {
			return 0, false
		}
		if isGauge {
			return gaugeArea(terms[0].number), true
		}
		return terms[0].number * 1e-6, terms[0].number > 0
	}
	x, ok1 := one(left)
	y, ok2 := one(right)
	if !ok1 || !ok2 || !isGauge && !strings.Contains(strings.ToLower(right), "mm") {
		return wireSize{}, false
	}
	return wireSize{interval{min(x, y), max(x, y)}, isGauge}, true
}

// class5 lists the greatest ohms a kilometre of fine-stranded wire at 20 °C by mm², IEC 60228 table 3 (I228).
var class5 = [][2]float64{{0.5, 39}, {0.75, 26}, {1, 19.5}, {1.5, 13.3}, {2.5, 7.98}, {4, 4.95}, {6, 3.3}, {10, 1.91}}

// fineStranding is how much more than its area says a metric wire may have: the table's rows, in proportion to
// the logarithm of the area between them; a size 1.6 times beyond the table's ends has 1.157, the most of any row.
func fineStranding(mm2 float64) float64 {
	const widest, beyond = 1.157, 1.6
	n := len(class5)
	rows := [][2]float64{{class5[0][0] / beyond, widest}}
	for _, r := range class5 {
		rows = append(rows, [2]float64{r[0], r[0] * r[1] * 1e-9 / copperOhmMetres})
	}
	rows = append(rows, [2]float64{class5[n-1][0] * beyond, widest})
	for i := 1; i < len(rows); i++ {
		if lo, hi := rows[i-1], rows[i]; mm2 <= hi[0] && mm2 >= lo[0] {
			return lo[1] + (hi[1]-lo[1])*math.Log(mm2/lo[0])/math.Log(hi[0]/lo[0])
		}
	}
	return widest
}

// ohmsPerMetre is what one metre of one conductor has, in a room.
func (w wireSize) ohmsPerMetre(room interval) interval {
	stranding := mostStranding
	if !w.gauge {
		stranding = fineStranding(w.area.lo * 1e6)
	}
	return interval{
		copperOhmMetres * warmed(room.lo, copperPerKelvin) / w.area.hi,
		copperOhmMetres * warmed(room.hi, copperPerKelvin) / w.area.lo * stranding,
	}
}

// railKind is a code in thousandths of an inch and a metal.
type railKind struct {
	code  float64
	metal string
}

func readRail(text string) railKind {
	var r railKind
	for word := range strings.FieldsSeq(strings.ToLower(text)) {
		if n, err := strconv.ParseFloat(word, 64); err == nil {
			r.code = n
		} else if word != "code" && word != "unknown" {
			r.metal = strings.TrimSpace(r.metal + " " + word)
		}
	}
	return r
}

// rows of measured rail, in ohms a metre at 20 °C: facts.md section 4, RA (1.45 and 0.48 mΩ/in) and RB. Code 100 nickel
// silver was measured by both; what one alone measured is taken to be as far off either way as those two differ.
const (
	railRA     = 1.45e-3 / 0.0254
	railRB     = 0.076
	railSpread = railRB / railRA
)

var measuredRail = []struct {
	railKind
	ohms interval
}{
	{railKind{100, "nickel silver"}, interval{railRA, railRB}},
	{railKind{83, "nickel silver"}, interval{0.108 / railSpread, 0.108 * railSpread}},
	{railKind{70, "nickel silver"}, interval{0.206 / railSpread, 0.206 * railSpread}},
	{railKind{100, "brass"}, interval{0.48e-3 / 0.0254 / railSpread, 0.48e-3 / 0.0254 * railSpread}},
}

// railMetals are resistivities in nanoohm metres and the change a kelvin, mostly from memory.
var railMetals = map[string]struct{ nanoOhms, perKelvin interval }{
	"nickel silver":   {interval{190, 290}, interval{0.0002, 0.0005}},
	"brass":           {interval{61.6, 80}, interval{0.001, 0.002}},
	"steel":           {interval{100, 400}, interval{0.003, 0.006}},
	"stainless steel": {interval{600, 800}, interval{0.0005, 0.0015}},
	"aluminium":       {interval{27, 45}, interval{0.003, 0.0042}},
	"copper":          {interval{17.2, 25}, interval{0.003, 0.0042}},
}

// area100 is the cross-section of rail of code 100 in mm², from memory; it grows with the code squared.
var area100 = interval{2.0, 3.3}

// anyRail are the rails between which all others lie that are in use; common practice, no source.
var anyRail = []railKind{
	{40, "nickel silver"},
	{70, "brass"},
	{70, "steel"},
	{215, "stainless steel"},
	{332, "nickel silver"},
	{332, "brass"},
	{332, "aluminium"},
}

// ohmsPerMetre is what one metre of one rail has; known is false where code or metal are not, and the
// range then takes in all that is usual.
func (r railKind) ohmsPerMetre(room interval) (ohms interval, known bool) {
	metal, ok := railMetals[r.metal]
	if !ok || r.code <= 0 {
		out, _ := anyRail[0].ohmsPerMetre(room)
		for _, x := range anyRail[1:] {
			v, _ := x.ohmsPerMetre(room)
			out = out.covering(v)
		}
		return out, false
	}
	warm := exactly(warmed(room.lo, metal.perKelvin.lo))
	for _, k := range []float64{metal.perKelvin.lo, metal.perKelvin.hi} {
		warm = warm.covering(exactly(warmed(room.lo, k))).covering(exactly(warmed(room.hi, k)))
	}
	return r.ohmsAt20().times(warm), true
}

// ohmsAt20 is measured, or else the widest of resistivity over area and what was measured of the metal, scaled
// with the code squared.
func (r railKind) ohmsAt20() interval {
	metal := railMetals[r.metal].nanoOhms.scaled(1e-9)
	area := area100.scaled(1e-6 * r.code * r.code / 1e4)
	out := interval{metal.lo / area.hi, metal.hi / area.lo}
	for _, row := range measuredRail {
		if row.railKind == r {
			return row.ohms
		}
		if row.metal == r.metal {
			out = out.covering(row.ohms.scaled(row.code * row.code / r.code / r.code))
		}
	}
	return out
}
