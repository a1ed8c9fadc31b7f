package source

import (
	"math/bits"
	"strings"
	"unicode/utf8"

	edlib "github.com/hbollon/go-edlib"
)

// maxNearest is the longest word, in characters, that Nearest looks at; no name of a
// layout is longer.
const maxNearest = 64

// Nearest returns the word of among that word most likely was meant to be, or "" when
// none is near: at most one slip in a short word, two from 6 characters on, three from
// 9. A slip is a wrong, missing, extra or swapped character; capitals don't count. Of
// equally near words the first by alphabet wins.
func Nearest(word string, among []string) string {
	length := utf8.RuneCountInString(word)
	if len(word) > maxNearest*utf8.UTFMax || length > maxNearest {
		return ""
	}
	folded := strings.ToLower(word)
	letters := letterSet(folded)
	limit := allowedSlips(length)
	best, bestSlips := "", limit+1
	for _, candidate := range among {
		if abs(len(candidate)-len(word)) > limit*utf8.UTFMax || candidate == "" {
			continue
		}
		if abs(utf8.RuneCountInString(candidate)-length) > limit {
			continue
		}
		other := strings.ToLower(candidate)
		if bits.OnesCount64(letters^letterSet(other)) > 2*limit {
			continue
		}
		slips := edlib.OSADamerauLevenshteinDistance(folded, other)
		if slips < bestSlips || slips == bestSlips && slips <= limit && candidate < best {
			best, bestSlips = candidate, slips
		}
	}
	return best
}

func allowedSlips(length int) int {
	switch {
	case length < 2:
		return 0
	case length < 6:
		return 1
	case length < 9:
		return 2
	}
	return 3
}

// letterSet has one bit for each kind of character in s (some share a bit). One slip
// changes at most two bits, so sets that differ in more are not near.
func letterSet(s string) uint64 {
	var set uint64
	for _, r := range s {
		set |= 1 << (uint32(r) % 64)
	}
	return set
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}
