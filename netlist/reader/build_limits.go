package reader

import (
	"slices"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
	"gapwise/netlist/tree"
)

// limitKinds are tried in this order; units tell them apart.
var limitKinds = []struct {
	kind quantity.Kind
	unit layout.Unit
}{
	{quantity.KindPercent, layout.UnitPercent},
	{quantity.KindResistanceFromZero, layout.UnitOhm},
	{quantity.KindVoltageFromZero, layout.UnitVolt},
	{quantity.KindCurrentFromZero, layout.UnitAmpere},
	{quantity.KindPosition, layout.UnitMetre},
	{quantity.KindTime, layout.UnitSecond},
	{quantity.KindTemperature, layout.UnitCelsius},
	{quantity.KindAngle, layout.UnitDegree},
	{quantity.KindCapacitance, layout.UnitFarad},
	{quantity.KindWire, layout.UnitSquareMetre},
}

// limits reads the owner's own limits.
func (r *reader) limits(n *tree.Node) {
	if n == nil || n.IsEmpty() {
		return
	}
	asKey := &key{name: "limits", kind: kind{noun: "a limit such as {bus-drop: 5 %}"}}
	values, _ := pairs(r, asKey, n, readText)
	for _, p := range values {
		if r.opts.LimitNames != nil && !slices.Contains(r.opts.LimitNames, p.key.s) {
			r.blame(p.key, problem{message: "no such limit", expected: listed(r.opts.LimitNames), nearest: r.nearest(p.key.s, r.opts.LimitNames)})
			continue
		}
		if was, again := r.limited[p.key.s]; again {
			r.blamef(p.key, "`%s` again; first at %s", p.key.s, r.line(was, p.key.pos))
			continue
		}
		r.limited[p.key.s] = p.key.pos
		if v, unit, ok := r.limit(p.value); ok {
			r.lay.Limits = append(r.lay.Limits, layout.Limit{Name: p.key.s, Value: v, Unit: unit, Pos: p.key.pos})
		}
	}
}

// limit reads a quantity of any kind. What is none is reported as by the kind that read
// most of it.
func (r *reader) limit(t text) (quantity.Value, layout.Unit, bool) {
	var worst *quantity.Error
	for _, k := range limitKinds {
		v, err := quantity.Parse(k.kind, t.s, t.pos)
		switch {
		case err == nil && !v.Known():
			return v, layout.UnitNone, true
		case err == nil:
			return v, k.unit, true
		}
		if worst == nil || err.Offset > worst.Offset {
			worst = err
		}
	}
	r.blame(t.part(t.shift+worst.Offset, worst.Width, t.s), problem{message: "no quantity", expected: "a number and a unit, such as 5 %, 0.5 Ω or 20 °C"})
	return quantity.Value{}, layout.UnitNone, false
}
