package solve

// spare is how many vectors of work space a factor keeps for later calls; a call needs up to four.
const spare = 16

// space keeps vectors of work space, one entry a node, for calls from any goroutine.
type space struct {
	n    int
	free chan []float64
}

func newSpace(n int) space { return space{n, make(chan []float64, spare)} }

// get takes a vector, whose entries are anything.
func (s space) get() []float64 {
	select {
	case v := <-s.free:
		return v
	default:
		return make([]float64, s.n)
	}
}

// put gives a vector back.
func (s space) put(v []float64) {
	select {
	case s.free <- v:
	default:
	}
}
