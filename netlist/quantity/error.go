package quantity

// Error says why a text is not the quantity asked for. Offset and Width, in characters,
// mark the part of the text at fault. Expected may be empty.
type Error struct {
	Offset, Width int
	Message       string
	Expected      string
}

func (e *Error) Error() string { return e.Message }
