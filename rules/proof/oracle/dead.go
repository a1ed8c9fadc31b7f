package oracle

import (
	"slices"
)

// feeding tells which nets a leg reaches in some setting, and which nets hang on
// something unknown.
type feeding struct{ fed, unknown []bool }

func (a *analysis) feeding(g *graph, of []group) feeding {
	f := feeding{make([]bool, len(g.labels)), make([]bool, len(g.labels))}
	mark := func(n int, labels []int) {
		for _, t := range labels {
			if a.feeds(t) {
				f.fed[n] = true
			} else if a.terminals[t].unknown {
				f.unknown[n] = true
			}
		}
	}
	for n, labels := range g.labels {
		mark(n, labels)
	}
	for _, gr := range of {
		g.each([]group{gr}, func(w *world) {
			for _, n := range gr.nets {
				mark(n, w.labels[w.sets.find(n)])
			}
		})
	}
	return f
}

// dead judges rail that no leg reaches in any setting. Rail of one net counts as
// one length.
func (a *analysis) dead() {
	type length struct {
		at     railAt
		metres float64
	}
	var all []length
	for _, ru := range a.runs {
		for rail := range 2 {
			from := ru.s0
			for i, n := range ru.nodes[rail] {
				to := ru.s1
				if i < len(ru.cuts[rail]) {
					to = ru.cuts[rail][i].at
				}
				all = append(all, length{railAt{n, rail, place(a.tracks[ru.track].name, from)}, to - from})
				from = to
			}
		}
	}
	for _, p := range a.pieces {
		for i, r := range p.rails {
			all = append(all, length{railAt{r.node, i % 2, pieceplace(p.name)}, r.length})
		}
	}
	surely := a.feeding(a.sure, a.sureOf)
	maybe := a.feeding(a.may, a.mayOf)
	var seen []int
	for _, x := range all {
		net := a.sure.net[x.at.node]
		if surely.fed[net] || slices.Contains(seen, net) {
			continue
		}
		seen = append(seen, net)
		metres := 0.0
		for _, y := range all {
			if a.sure.net[y.at.node] == net {
				metres += y.metres
			}
		}
		if metres < deadMin-tiny {
			continue
		}
		weak := a.may.net[x.at.node]
		if surely.unknown[net] || maybe.fed[weak] || maybe.unknown[weak] {
			a.add(Unsure, x.at.place, railWords[x.at.rail]+" is fed by nothing that somebody vouches for")
			continue
		}
		a.add(Dead, x.at.place, railWords[x.at.rail]+" has no leg in any setting")
	}
}
