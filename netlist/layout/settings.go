package layout

// SettingWords are the words by which the settings of a piece are named in the
// language (`never-together`, `frog-gets`) and in findings: legs for a turnout and a
// three-way, routes for a crossing or slip, TRACK-head and TRACK-tail for a
// turntable, A-B for a transfer table. Tracks have none.
func (l *Layout) SettingWords(id PieceID) []string {
	p := &l.Pieces[id]
	switch p.Kind {
	case TurnoutPiece:
		return []string{p.Ends[1].Name, p.Ends[2].Name}
	case ThreeWayPiece:
		return []string{"left", "straight", "right"}
	case CrossingPiece:
		switch l.Crossings[p.Index].Slip {
		case SlipAB:
			return []string{"a-c", "d-b", "a-b"}
		case SlipDC:
			return []string{"a-c", "d-b", "d-c"}
		case SlipBoth:
			return []string{"a-c", "a-b", "d-b", "d-c"}
		default:
			return []string{"a-c", "d-b"}
		}
	case TurntablePiece:
		words := make([]string, 0, 2*len(p.Ends))
		for i := range p.Ends {
			words = append(words, p.Ends[i].Name+"-head", p.Ends[i].Name+"-tail")
		}
		return words
	case TransferTablePiece:
		n := l.TransferTables[p.Index].ACount
		var words []string
		for i := range n {
			for j := n; j < len(p.Ends); j++ {
				words = append(words, p.Ends[i].Name+"-"+p.Ends[j].Name)
			}
		}
		return words
	default:
		return nil
	}
}
