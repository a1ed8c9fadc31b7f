package source

// Problem is one mistake in a layout file. Message is lower case without a full stop;
// Expected and Nearest may be empty. Width is how many characters the caret line marks.
type Problem struct {
	Pos      Pos
	Width    int
	Message  string
	Expected string
	Nearest  string
}
