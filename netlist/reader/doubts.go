package reader

import "gapwise/netlist/layout"

// doubts are what may lack joints because of mistakes that were reported: certain pieces,
// some number of ends nobody knows which, or anything.
type doubts struct {
	pieces   map[layout.PieceID]bool
	ends     int
	anything bool
}

func (d *doubts) add(p layout.PieceID) {
	if d.pieces == nil {
		d.pieces = map[layout.PieceID]bool{}
	}
	d.pieces[p] = true
}
