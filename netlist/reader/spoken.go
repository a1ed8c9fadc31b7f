package reader

import "strings"

// spokenOf is the name of among that stands in what was typed: breakers in
// circuit-breakers, buses in power-bus. Of several it is the one that ends last, as the
// words before it only say which.
func spokenOf(typed string, among []string) string {
	in := "-" + fold(typed) + "-"
	best, bestEnd := "", 0
	for _, name := range among {
		for _, form := range [3]string{name, strings.TrimSuffix(name, "s"), strings.TrimSuffix(name, "es")} {
			if end := endIn(in, form); end > bestEnd || end == bestEnd && end > 0 && len(name) > len(best) {
				best, bestEnd = name, end
			}
		}
	}
	return best
}

// longWord is how long a word is, in characters, that is hardly part of another by chance.
const longWord = 6

// endIn is where a word ends in a text, 0 when it is not there. A short one must stand
// between hyphens.
func endIn(in, word string) int {
	if i := strings.LastIndex(in, word); i >= 0 && len(word) >= longWord {
		return i + len(word)
	}
	if i := strings.LastIndex(in, "-"+word+"-"); i >= 0 {
		return i + 1 + len(word)
	}
	return 0
}
