package format

// placeComments puts the comments behind values. Those that stand in one column on lines in a
// row go on to, with the lines below that hold nothing but more of the comment.
func (l *layouter) placeComments() {
	for n := 0; n < len(l.lines); n++ {
		first := &l.lines[n]
		if first.comment < 0 || first.alone {
			continue
		}
		end := n + 1
		for end < len(l.lines) && l.goesOn(end, l.d.tokens[first.comment].col) {
			end++
		}
		l.alignComments(l.lines[n:end])
		n = end - 1
	}
}

// goesOn reports whether a line has a comment in a column, and no empty line before it.
func (l *layouter) goesOn(n, col int) bool {
	this := &l.lines[n]
	return this.comment >= 0 && this.empty == 0 && l.d.tokens[this.comment].col == col
}

// alignComments keeps the least distance that a comment of these lines has from its value.
func (l *layouter) alignComments(lines []line) {
	least, widest := 0, 0
	for _, this := range lines {
		if this.alone {
			continue
		}
		apart := max(1, l.d.tokens[this.comment].from-l.d.tokens[this.comment-1].to) // none is needed behind a bracket
		if least == 0 || apart < least {
			least = apart
		}
		widest = max(widest, l.lineWidth(this))
	}
	for _, this := range lines {
		l.before[this.comment] = widest + least
		if !this.alone {
			l.before[this.comment] -= l.lineWidth(this)
		}
	}
}

// lineWidth is how long a line is without its trailing comment.
func (l *layouter) lineWidth(this line) int {
	width := 0
	for i := this.from; i < this.comment; i++ {
		width += l.before[i] + l.d.width(i)
	}
	return width
}
