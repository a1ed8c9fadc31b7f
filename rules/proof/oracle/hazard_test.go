package oracle

import (
	"slices"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"
)

const base = `
defaults:
  turnout: {length: 11 in, wiring: dead-frog, jumpers: yes}
  gap: {rails: both, kind: insulated}
  joint: {kind: soldered}
boosters:
  one: {signal: command, signal-wired: straight}
  two: {like: one}
  odd: {like: one, signal-wired: crossed}
  far: {like: one, signal: other}
buses:
  main: {from: booster one, length: 40 ft}
  second: {from: booster two, length: 40 ft}
  cross: {from: booster odd, length: 40 ft}
  strange: {from: booster far, length: 40 ft}
  east: {from: breaker east, length: 9 ft}
  pole: {from: breaker pole, length: 9 ft}
  turn: {from: reverser turn, length: 9 ft}
  hand: {from: reverser hand, length: 9 ft}
  d1: {from: detector d1, legs: A, length: 9 ft}
  d2: {from: detector d2, legs: A, length: 9 ft}
  module: {from: plug module, length: 9 ft}
  swap: {from: changeover swap, length: 9 ft}
breakers:
  east: {from: main @ 3 ft, opens: both}
  pole: {from: main @ 3 ft, opens: A}
reversers:
  turn: {from: main @ 5 ft, switching: automatic}
  hand: {from: main @ 5 ft, switching: by-hand}
detectors:
  d1: {from: main @ 1 ft, leg: A}
  d2: {from: main @ 1 ft, leg: A}
plugs:
  module: {from: main @ 9 ft, legs: either}
changeovers:
  swap: {positions: {run: main @ 9 ft, back: {from: main @ 9 ft, legs: crossed}, off: nothing}, opens: both}
`

const shelf = "tracks: {line: {from: end, to: end, length: 20 ft}}\n"

const balloon = `
tracks: {lead: {from: end, to: T1 points, length: 8 ft}, loop: {from: T1 straight, to: T1 curved, length: 14 ft}}
turnouts: {T1: {hand: left}}
trains: {goods: {length: 8 ft}}
`

const fork = `
tracks: {lead: {from: end, to: T1 points, length: 6 ft}, main: {from: T1 straight, to: end, length: 6 ft}, spur: {from: T1 curved, to: end, length: 6 ft}}
`

const forkFed = "feeders: {lead: {A: left, 3 ft: main @ 3 ft}, main: {A: left, 3 ft: main @ 9 ft}, spur: {A: left, 3 ft: main @ 9 ft}}\n"

const crossover = `
tracks: {up: {from: end, to: end, length: 20 ft}, down: {from: end, to: end, length: 20 ft}, over: {from: T1 curved, to: T2 curved, length: 1 ft}}
turnouts:
  T1: {hand: right, at: up @ 8 ft, via: points to straight, wiring: power-routing}
  T2: {hand: right, at: down @ 10 ft, via: straight to points, wiring: power-routing THROWN}
gaps: {T1: [{at: straight, rails: inner}], T2: [{at: straight, rails: inner}]}
feeders: {up: {A: left, 4 ft: main @ 4 ft, 15 ft: main @ 5 ft}, down: {A: left, 4 ft: main @ 4 ft, 15 ft: main @ 5 ft}}
`

const table = `
tracks: {lead: {from: end, to: TT lead, length: 6 ft}, stall: {from: TT stall, to: end, length: 2 ft}}
feeders: {lead: {A: left, 3 ft: main @ 3 ft}, stall: {A: left, 1 ft: main @ 9 ft}}
`

// Each want is the kind and place of a hazard, and there must be no others; *
// stands for any places.
func TestHazards(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"shelf", shelf + "feeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: main @ 15 ft}}", ""},
		{"crossed feeder", shelf + "feeders: {line: {A: left, 3 ft: main @ 3 ft, 9 ft: main @ 9 ft, 15 ft: {from: main @ 15 ft, A: right}}}", "short line @ 4.57 m"},
		{"crossed beyond a gap", shelf + "gaps: {line: [10 ft]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: {from: main @ 15 ft, A: right}}}", "wheel line @ 3.05 m"},
		{"crossed beyond a cut expansion gap", shelf + "gaps: {line: [{at: 10 ft, kind: expansion, joint: cut}]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: {from: main @ 15 ft, A: right}}}", "wheel line @ 3.05 m"},
		{"crossed beyond a sliding joint", shelf + "gaps: {line: [{at: 10 ft, kind: expansion, joint: sliding}]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: {from: main @ 15 ft, A: right}}}", "short *"},
		{"broken crossed feeder", shelf + "feeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: {from: main @ 15 ft, A: right, broken: yes}}}", ""},
		{"like ends turn over", "tracks: {west: {from: end, to: east end, length: 8 ft}, east: {from: end, to: west end, length: 8 ft}}\nfeeders: {west: {A: left, 2 ft: main @ 2 ft}, east: {A: left, 2 ft: main @ 9 ft}}", "short *"},
		{"like ends, turned feeder", "tracks: {west: {from: end, to: east end, length: 8 ft}, east: {from: end, to: west end, length: 8 ft}}\nfeeders: {west: {A: left, 2 ft: main @ 2 ft}, east: {A: right, 2 ft: main @ 9 ft}}", ""},
		{"bond left to right", shelf + "bonds: [{from: line @ 2 ft, to: line @ 9 ft, rails: [left, right]}]\nfeeders: {line: {A: left, 3 ft: main @ 3 ft}}", "short *"},
		{"ring", "tracks: {oval: {closed: yes, length: 30 ft}}\nfeeders: {oval: {A: left, 3 ft: main @ 3 ft}}", ""},

		{"two boosters", shelf + "feeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: second @ 5 ft}}", "tied *"},
		{"two boosters, gapped", shelf + "gaps: {line: [10 ft]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: second @ 5 ft}}", ""},
		{"two boosters, one rail cut", shelf + "gaps: {line: [{at: 10 ft, rails: left}]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: second @ 5 ft}}", "tied *"},
		{"two boosters, common rail", shelf + "common-rail: [{rail: right, of: line}]\ngaps: {line: [{at: 10 ft, rails: left}]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: second @ 5 ft}}", ""},
		{"common rail at a two-pole breaker", shelf + "common-rail: [{rail: right, of: line}]\ngaps: {line: [{at: 10 ft, rails: left}]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: east @ 5 ft}}", "tied *"},
		{"breaker and what it hangs from", shelf + "feeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: east @ 5 ft}}", "tied *"},
		{"one-leg breaker", shelf + "gaps: {line: [{at: 10 ft, rails: left}]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: pole @ 5 ft}}", ""},
		{"bus that ends on another", shelf + "feeders: {line: {A: left, 3 ft: main @ 3 ft}}\nbuses: {long: {from: booster two, length: 9 ft, to: main @ 3 ft}}", "tied bus long @ 0.00 m"},
		{"booster out of phase", shelf + "gaps: {line: [10 ft]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: cross @ 5 ft}}", "wheel line @ 3.05 m"},
		{"booster out of phase, turned feeder", shelf + "gaps: {line: [10 ft]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: {from: cross @ 5 ft, A: right}}}", ""},
		{"booster of another signal", shelf + "gaps: {line: [10 ft]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: {from: strange @ 5 ft, A: right}}}", ""},
		{"plug either way", shelf + "gaps: {line: [10 ft]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: module @ 5 ft}}", "wheel line @ 3.05 m"},
		{"changeover crossed in one position", shelf + "gaps: {line: [10 ft]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: swap @ 5 ft}}", "wheel line @ 3.05 m"},
		{"changeovers thrown together", shelf + "gaps: {line: [10 ft]}\nchangeovers: {swap: {positions: {run: main @ 9 ft, back: {from: main @ 9 ft, legs: crossed}}, opens: both}, other: {like: swap, throws-with: swap}}\nbuses: {o: {from: changeover other}}\nfeeders: {line: {A: left, 3 ft: swap @ 3 ft, 15 ft: o @ 5 ft}}", ""},
		{"changeovers thrown by a turnout", fork + "turnouts: {T1: {hand: left}}\ngaps: {main: [start]}\nchangeovers: {swap: {positions: {run: main @ 9 ft, back: {from: main @ 9 ft, legs: crossed}}, opens: both, throws-with: T1}, other: {like: swap}}\nbuses: {o: {from: changeover other}}\nfeeders: {lead: {A: left, 3 ft: swap @ 3 ft}, main: {A: left, 3 ft: o @ 5 ft}, spur: {A: left, 3 ft: swap @ 1 ft}}", ""},
		{"changeovers that differ", shelf + "gaps: {line: [10 ft]}\nchangeovers: {swap: {positions: {run: main @ 9 ft, back: {from: main @ 9 ft, legs: crossed}}, opens: both}, other: {like: swap}}\nbuses: {o: {from: changeover other}}\nfeeders: {line: {A: left, 3 ft: swap @ 3 ft, 15 ft: o @ 5 ft}}", "wheel line @ 3.05 m"},
		{"changeover that makes first", shelf + "feeders: {line: {A: left, 3 ft: main @ 3 ft}}\nchangeovers: {hot: {positions: {x: main @ 3 ft, y: second @ 2 ft}, opens: both, throw: make-first}}", "tied changeover hot @ 0.00 m"},
		{"changeover that makes first, off between", shelf + "feeders: {line: {A: left, 3 ft: main @ 3 ft}}\nchangeovers: {hot: {positions: {a-on: main @ 3 ft, b-off: nothing, c-on: second @ 2 ft}, opens: both, throw: make-first}}", ""},

		{"balloon ungapped", balloon + "feeders: {lead: {A: left, 3 ft: main @ 3 ft}}", "short *"},
		{"balloon without reverser", balloon + "gaps: {loop: [1 ft, 13 ft]}\nfeeders: {lead: {A: left, 3 ft: main @ 3 ft}, loop: {A: left, 5 ft: main @ 5 ft}}", "wheel loop @ 3.96 m"},
		{"balloon with reverser", balloon + "gaps: {loop: [1 ft, 13 ft]}\nfeeders: {lead: {A: left, 3 ft: main @ 3 ft}, loop: {A: left, 5 ft: turn @ 5 ft}}", ""},
		{"balloon, gap in one rail", balloon + "gaps: {loop: [1 ft, {at: 13 ft, rails: left}]}\nfeeders: {lead: {A: left, 3 ft: main @ 3 ft}, loop: {A: left, 5 ft: turn @ 5 ft}}", "short *, tied *"},
		{"balloon, short section", balloon + "gaps: {loop: [1 ft, 8 ft]}\nfeeders: {lead: {A: left, 3 ft: main @ 3 ft}, loop: {A: left, 5 ft: turn @ 5 ft}}", "train loop @ 0.30 m"},
		{"balloon, section as long as the train", balloon + "gaps: {loop: [1 ft, 9 ft]}\nfeeders: {lead: {A: left, 3 ft: main @ 3 ft}, loop: {A: left, 5 ft: turn @ 5 ft}}", ""},
		{"balloon, short section, plastic wheels", strings.Replace(balloon, "8 ft}}\n", "8 ft, wheels: plastic}}\n", 1) + "gaps: {loop: [1 ft, 8 ft]}\nfeeders: {lead: {A: left, 3 ft: main @ 3 ft}, loop: {A: left, 5 ft: turn @ 5 ft}}", ""},
		{"balloon, short section, other trains", strings.Replace(balloon, "8 ft}}\n", "8 ft}, railcar: {length: 2 ft}}\n", 1) + "blocks: {b: {covers: loop @ 1 ft .. 8 ft, trains: [railcar]}}\ngaps: {loop: [1 ft, 8 ft]}\nfeeders: {lead: {A: left, 3 ft: main @ 3 ft}, loop: {A: left, 5 ft: turn @ 5 ft}}", ""},
		{"section of one polarity", shelf + "trains: {goods: {length: 8 ft}}\ngaps: {line: [5 ft, 9 ft]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 7 ft: turn @ 3 ft, 12 ft: main @ 9 ft}}", ""},
		{"two that switch by themselves", shelf + "reversers: {other: {from: main @ 3 ft, switching: automatic}}\nbuses: {o: {from: reverser other}}\ngaps: {line: [10 ft]}\nfeeders: {line: {A: left, 3 ft: turn @ 3 ft, 15 ft: o @ 3 ft}}", "train line @ 3.05 m"},
		{"by hand beside automatic", shelf + "gaps: {line: [10 ft]}\nfeeders: {line: {A: left, 3 ft: turn @ 3 ft, 15 ft: hand @ 3 ft}}", ""},

		{"dead end", shelf + "gaps: {line: [10 ft]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft}}", "dead line @ 3.05 m"},
		{"dead rail", shelf + "gaps: {line: [10 ft]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: {from: main @ 9 ft, rails: left}}}", "dead line @ 3.05 m"},
		{"dead, but 9 cm", shelf + "gaps: {line: [9 cm from end]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft}}", ""},
		{"broken feeder", shelf + "gaps: {line: [10 ft]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: {from: main @ 9 ft, broken: yes}}}", "dead line @ 3.05 m"},
		{"feeder nobody knows", shelf + "gaps: {line: [10 ft]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: {from: unknown}}}", "unsure line @ 3.05 m"},
		{"feeder that may be broken", shelf + "gaps: {line: [10 ft]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: {from: main @ 3 ft, broken: unknown}}}", "unsure line @ 3.05 m"},
		{"sliding joint feeds nothing", shelf + "gaps: {line: [{at: 10 ft, kind: expansion, joint: sliding}]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft}}", "unsure line @ 3.05 m"},
		{"bonded joint feeds", shelf + "gaps: {line: [{at: 10 ft, kind: expansion, joint: bonded}]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft}}", ""},
		{"joiners not trusted", shelf + "practice: [joiners-not-trusted]\njoints: {line: [{at: 10 ft, kind: plain}]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft}}", "unsure line @ 3.05 m"},
		{"plain joiners", shelf + "joints: {line: [{at: 10 ft, kind: plain}]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft}}", ""},
		{"bond feeds", shelf + "gaps: {line: [10 ft]}\nbonds: [{from: line @ 9 ft, to: line @ 11 ft, rails: both}]\nfeeders: {line: {A: left, 3 ft: main @ 3 ft}}", ""},
		{"leg fed by its blade", fork + "turnouts: {T1: {hand: left, wiring: power-routing}}\nfeeders: {lead: {A: left, 3 ft: main @ 3 ft}}", ""},
		{"legs without jumpers", fork + "turnouts: {T1: {hand: left, jumpers: no}}\nfeeders: {lead: {A: left, 3 ft: main @ 3 ft}}", "dead main @ 0.00 m, dead spur @ 0.00 m"},
		{"legs with unknown jumpers", fork + "turnouts: {T1: {hand: left, jumpers: unknown}}\nfeeders: {lead: {A: left, 3 ft: main @ 3 ft}}", "unsure main @ 0.00 m, unsure spur @ 0.00 m"},
		{"lift-out", "tracks: {line: {from: end, to: gate start, length: 8 ft}, gate: {from: line end, to: end, length: 2 ft, lift-out: yes}}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft}}", "unsure gate @ 0.00 m"},

		{"power routing fed from both legs", fork + "turnouts: {T1: {hand: left, wiring: power-routing}}\n" + forkFed, "short *"},
		{"power routing fed from one leg", fork + "turnouts: {T1: {hand: left, wiring: power-routing}}\nfeeders: {lead: {A: left, 3 ft: main @ 3 ft}, main: {A: left, 3 ft: main @ 9 ft}}", "short T1 @ 0.00 m"},
		{"power routing gapped", fork + "turnouts: {T1: {hand: left, wiring: power-routing}}\ngaps: {T1: [{at: straight, rails: inner}, {at: curved, rails: inner}]}\n" + forkFed, ""},
		{"power routing gapped in the outer rails", fork + "turnouts: {T1: {hand: left, wiring: power-routing}}\ngaps: {T1: [{at: straight, rails: outer}, {at: curved, rails: outer}]}\n" + forkFed, "short *"},
		{"power routing gapped, leg fed crossed", fork + "turnouts: {T1: {hand: left, wiring: power-routing}}\ngaps: {T1: [{at: straight, rails: inner}], spur: [start]}\nfeeders: {lead: {A: left, 3 ft: main @ 3 ft}, main: {A: left, 3 ft: main @ 9 ft}, spur: {A: right, 3 ft: main @ 9 ft}}", "wheel spur @ 0.00 m"},
		{"contacts swapped", fork + "turnouts: {T1: {hand: left, wiring: switched-frog, frog-gets: {straight: stock-right, curved: stock-left}}}\n" + forkFed, "wheel T1 @ 0.00 m"},
		{"contacts right", fork + "turnouts: {T1: {hand: left, wiring: switched-frog}}\n" + forkFed, ""},
		{"contacts from a bus", fork + "turnouts: {T1: {hand: left, wiring: switched-frog, frog-from: main @ 2 ft, frog-gets: {straight: A, curved: B}}}\n" + forkFed, ""},
		{"contacts from a bus, swapped", fork + "turnouts: {T1: {hand: left, wiring: switched-frog, frog-from: main @ 2 ft, frog-gets: {straight: B, curved: A}}}\n" + forkFed, "wheel T1 @ 0.00 m"},
		{"contacts from a reverser", fork + "turnouts: {T1: {hand: left, wiring: switched-frog, frog-from: turn @ 2 ft, frog-gets: {straight: A, curved: B}}}\n" + forkFed, "wheel T1 @ 0.00 m"},
		{"contacts that make first", fork + "turnouts: {T1: {hand: left, wiring: switched-frog, throw: make-first}}\n" + forkFed, "short T1 @ 0.00 m"},
		{"flipped frog", fork + "turnouts: {T1: {hand: left, wiring: flipped-frog}}\n" + forkFed, ""},

		{"set by themselves", strings.Replace(crossover, "THROWN", "", 1), "short T1 @ 0.00 m, short T2 @ 0.00 m"},
		{"never together", strings.Replace(crossover, "THROWN", "", 1) + "never-together: [{T1: curved, T2: straight}, {T1: straight, T2: curved}, {T1: straight, T2: straight}]\n", ""},
		{"thrown together", strings.Replace(crossover, "THROWN", ", throws-with: T1", 1), "short *"},

		{"turntable", table + "turntables: {TT: {bridge: 12 in, tracks: {lead: 0 deg, stall: 180 deg}, feed: split-ring, from: main @ 7 ft, A: right, split-at: 90 deg}}", ""},
		{"turntable, wires swapped", table + "turntables: {TT: {bridge: 12 in, tracks: {lead: 0 deg, stall: 180 deg}, feed: split-ring, from: main @ 7 ft, A: left, split-at: 90 deg}}", "wheel lead @ 1.83 m, wheel stall @ 0.00 m"},
		{"turntable with plain rings", table + "turntables: {TT: {bridge: 12 in, tracks: {lead: 0 deg, stall: 180 deg}, feed: plain, from: main @ 7 ft, A: right}}", "wheel lead @ 1.83 m, wheel stall @ 0.00 m"},
		{"turntable behind a reverser", table + "turntables: {TT: {bridge: 12 in, tracks: {lead: 0 deg, stall: 180 deg}, feed: plain, from: reverser turn, A: right}}", ""},
		{"turntable behind a reverser, tracks that disagree", strings.Replace(table, "stall: {A: left", "stall: {A: right", 1) + "trains: {goods: {length: 2 ft}}\nturntables: {TT: {bridge: 12 in, tracks: {lead: 0 deg, stall: 180 deg}, feed: plain, from: reverser turn, A: right}}", "train lead @ 1.83 m"},
		{"transfer table", strings.NewReplacer("TT lead", "XT p", "TT stall", "XT q").Replace(table) + "transfer-tables: {XT: {bridge: 1 ft, a: {p: 0 in}, b: {q: 0 in}, from: main @ 1 ft, A: left}}", ""},
		{"transfer table, crossed", strings.NewReplacer("TT lead", "XT p", "TT stall", "XT q").Replace(table) + "transfer-tables: {XT: {bridge: 1 ft, a: {p: 0 in}, b: {q: 0 in}, from: main @ 1 ft, A: right}}", "wheel lead @ 1.83 m, wheel stall @ 0.00 m"},

		{"detector passed by", shelf + "feeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: {from: main @ 9 ft, A-from: d1 @ 2 ft}}}", "detector *"},
		{"detectors joined", shelf + "feeders: {line: {A: left, 3 ft: {from: main @ 9 ft, A-from: d2 @ 2 ft}, 15 ft: {from: main @ 9 ft, A-from: d1 @ 2 ft}}}", "detector *"},
		{"detectors apart", shelf + "gaps: {line: [{at: 10 ft, rails: A}]}\nfeeders: {line: {A: left, 3 ft: {from: main @ 9 ft, A-from: d2 @ 2 ft}, 15 ft: {from: main @ 9 ft, A-from: d1 @ 2 ft}}}", ""},
		{"block of another detector", shelf + "blocks: {b: {covers: line, detector: d2}}\nfeeders: {line: {A: left, 3 ft: {from: main @ 9 ft, A-from: d1 @ 2 ft}}}", "detector line @ 0.00 m"},
		{"block of no detector", shelf + "blocks: {b: {covers: line, detector: d2}}\nfeeders: {line: {A: left, 3 ft: main @ 9 ft}}", "detector line @ 0.00 m"},
		{"block of its detector", shelf + "blocks: {b: {covers: line, detector: d1}}\nfeeders: {line: {A: left, 3 ft: {from: main @ 9 ft, A-from: d1 @ 2 ft}}}", ""},

		{"blocks without gap", shelf + "blocks: {w: {covers: line @ 0 .. 10 ft}, e: {covers: line @ 10 ft .. end}}\nfeeders: {line: {A: left, 3 ft: main @ 9 ft}}", "block line @ 3.05 m"},
		{"blocks with a gap 6 in off", shelf + "gaps: {line: [10 ft 6 in]}\nblocks: {w: {covers: line @ 0 .. 10 ft}, e: {covers: line @ 10 ft .. end}}\nfeeders: {line: {A: left, 3 ft: main @ 9 ft, 15 ft: main @ 9 ft}}", ""},
		{"blocks with a gap 7 in off", shelf + "gaps: {line: [10 ft 7 in]}\nblocks: {w: {covers: line @ 0 .. 10 ft}, e: {covers: line @ 10 ft .. end}}\nfeeders: {line: {A: left, 3 ft: main @ 9 ft, 15 ft: main @ 9 ft}}", "block line @ 3.05 m, block line @ 3.23 m"},
		{"block up to a gap that is not there", shelf + "blocks: {w: {covers: line @ 0 .. gap}}\nfeeders: {line: {A: left, 3 ft: main @ 9 ft}}", "block line @ 6.10 m"},
		{"block up to its gap", shelf + "gaps: {line: [5 ft]}\nblocks: {w: {covers: line @ 0 .. gap}, e: {covers: line @ gap .. end}}\nfeeders: {line: {A: left, 3 ft: main @ 9 ft, 15 ft: main @ 9 ft}}", ""},
		{"block on a crossing's other route", "tracks: {w: {from: end, to: X a, length: 3 ft}, e: {from: X c, to: end, length: 3 ft}}\ncrossings: {X: {wiring: dead-frogs, length: 6 in}}\nblocks: {b: {covers: [w, X a-c, e]}}\nfeeders: {w: {A: left, 1 ft: main @ 1 ft}}", "dead X @ 0.00 m"},

		{"district as meant", shelf + "districts: {d: {from: breaker east, blocks: b}}\nblocks: {b: {covers: line}}\nfeeders: {line: {A: left, 3 ft: east @ 5 ft}}", ""},
		{"district of another source", shelf + "districts: {d: {from: breaker east, blocks: b}}\nblocks: {b: {covers: line}}\nfeeders: {line: {A: left, 3 ft: main @ 5 ft}}", "meant line @ 0.00 m"},
		{"district of a one-leg breaker", shelf + "districts: {d: {from: breaker pole, blocks: b}}\nblocks: {b: {covers: line}}\nfeeders: {line: {A: left, 3 ft: {from: main @ 3 ft, A-from: pole @ 2 ft}}}", ""},
		{"district past a one-leg breaker", shelf + "districts: {d: {from: breaker pole, blocks: b}}\nblocks: {b: {covers: line}}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft}}", "meant line @ 0.00 m"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			l := reading(t, merged(t, base, tt.text))
			for _, limit := range []int{0, 4096} {
				hs, err := l.Hazards(limit)
				if err != nil {
					t.Fatal(err)
				}
				if want := strings.Split(tt.want, ", "); !same(kinds(hs), want) {
					t.Errorf("limit %d: want %q, got %q", limit, want, hs)
				}
			}
		})
	}
}

// merged puts the entries of one text over those of another.
func merged(t *testing.T, below, above string) string {
	t.Helper()
	var x, y map[string]any
	if err := yaml.Unmarshal([]byte(below), &x); err != nil {
		t.Fatal(err)
	}
	if err := yaml.Unmarshal([]byte(above), &y); err != nil {
		t.Fatal(err)
	}
	for section, entries := range y {
		under, ok := x[section].(map[string]any)
		over, mapped := entries.(map[string]any)
		if !ok || !mapped {
			x[section] = entries
			continue
		}
		for name, e := range over {
			under[name] = e
		}
	}
	out, err := yaml.Marshal(x)
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// kinds lists kind and place of hazards once each.
func kinds(hs []Hazard) []string {
	var out []string
	for _, h := range hs {
		out = append(out, h.Kind+" "+h.Place)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// same compares hazards with what is wanted; a want with * takes any number of one kind.
func same(got, want []string) bool {
	matched := make([]bool, len(want))
	for _, g := range got {
		at := slices.IndexFunc(want, func(w string) bool {
			kind, any := strings.CutSuffix(w, "*")
			return g == w || any && strings.HasPrefix(g, kind)
		})
		if at < 0 {
			return false
		}
		matched[at] = true
	}
	for i, m := range matched {
		if !m && want[i] != "" {
			return false
		}
	}
	return true
}
