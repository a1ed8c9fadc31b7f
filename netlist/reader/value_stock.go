package reader

import (
	"slices"
	"unicode/utf8"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
	"gapwise/netlist/tree"
)

// wiresKind is one or more wire sizes, each alone or with what it costs.
var wiresKind = kind{
	value: "wire sizes, or {wire, price, per}", noun: "sizes such as [14 AWG, 2.5 mm²], or {wire: 12 AWG, price: 18.50, per: 100 ft}",
	shape: fixed(oneOrMore(eitherOf(quantityShape(quantity.KindWire), entryOf("wire")))), partial: true,
	decode: func(r *reader, k *key, n *tree.Node) (any, bool) { return r.stockWires(k, n) },
}

var stockWireSection = newSection(section{
	name: "wire", noun: "a wire in stock",
	doc: "a size of wire in stock with its price",
	keys: []key{
		{name: "wire", kind: wireKind, required: true, doc: "its size"},
		{name: "price", kind: priceKind, required: true, doc: "what a length of single conductor costs, in your money"},
		{name: "per", kind: quantityKind("length", "a length", quantity.KindLength, quantity.ParseLength), required: true, ask: "what length of wire is the price for?", hint: "such as per: 100 ft", doc: "the length of single conductor that the price is for"},
	},
})

// mostPrice bounds a price: a slip of the pen lies above it.
const mostPrice = 1_000_000

// priceKind is a plain number of whatever money.
var priceKind = kind{value: "number", noun: "a plain number such as 18.50", shape: fixed(priceShape), decode: func(r *reader, k *key, n *tree.Node) (any, bool) {
	t, ok := r.scalar(n, k)
	if !ok {
		return nil, false
	}
	v, err := quantity.ParseDecimal(t.s, mostPrice)
	if err != nil {
		r.blame(t.part(t.shift+err.Offset, err.Width, t.s), problem{message: err.Message, expected: err.Expected})
		return nil, false
	}
	return v, true
}}

var priceShape = Shape{
	Form: OneText, Name: "price", Says: "a plain number such as 18.50",
	Pattern: whole(quantity.DecimalPattern), Untyped: []string{"number"}, Bounded: true, High: mostPrice,
}

// stockWires reads a list of sizes, or one without brackets.
func (r *reader) stockWires(k *key, n *tree.Node) ([]layout.StockWire, bool) {
	if n.Bad {
		return nil, false
	}
	items := n.List()
	ok, wires := true, make([]layout.StockWire, 0, len(items))
	for _, item := range items {
		w, fine := r.stockWire(k, item)
		ok = ok && fine
		if fine {
			wires = append(wires, w)
		}
	}
	return wires, ok
}

func (r *reader) stockWire(k *key, n *tree.Node) (layout.StockWire, bool) {
	switch {
	case n.Kind == tree.Map:
		rec := r.record(&unit{}, stockWireSection, n, nodeText(n))
		r.refuseOthers(rec)
		ok := r.require(rec) && !rec.bad
		for i := range rec.vals {
			ok = ok && rec.vals[i].ok
		}
		return layout.StockWire{Wire: rec.wire("wire"), Price: value[float64](rec, "price"), Per: rec.length("per"), Pos: rec.pos("wire")}, ok
	case n.IsEmpty() && !n.Bad:
		r.blame(nodeText(n), problem{message: "no value; " + k.kind.noun})
		return layout.StockWire{}, false
	}
	t, ok := r.scalar(n, k)
	if !ok {
		return layout.StockWire{}, false
	}
	w, ok := measured(r, t, quantity.ParseWire)
	return layout.StockWire{Wire: w, Pos: t.pos}, ok
}

// addStock adds wires to those of other files. What another file says too is taken once.
func (r *reader) addStock(all, wires []layout.StockWire) []layout.StockWire {
	for _, w := range wires {
		i := slices.IndexFunc(all, func(o layout.StockWire) bool {
			return w.Wire.Known() && o.Wire.Known() && o.Wire.Lo == w.Wire.Lo && o.Wire.Hi == w.Wire.Hi
		})
		switch {
		case i < 0:
			all = append(all, w)
		case all[i].Pos == w.Pos: // a module used twice
		case all[i].Pos.File == w.Pos.File, all[i].Priced() != w.Priced(), all[i].PerMetre() != w.PerMetre():
			t := newText(w.Wire.Text, w.Pos, utf8.RuneCountInString(w.Wire.Text))
			r.blamef(t, "%s again; first at %s", w.Wire.Text, r.line(all[i].Pos, w.Pos))
		}
	}
	return all
}
