package quantity

import (
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"gapwise/netlist/source"
)

func compiled(t *testing.T) map[Kind]*regexp.Regexp {
	t.Helper()
	patterns := map[Kind]*regexp.Regexp{}
	for _, k := range Kinds() {
		patterns[k] = regexp.MustCompile("^[ \t]*(?:unknown|" + k.Pattern() + ")[ \t]*$")
	}
	return patterns
}

// Every spelling that the language takes fits the pattern of its kind.
func TestPatternFitsSpellings(t *testing.T) {
	patterns := compiled(t)
	for _, s := range spelled {
		if !patterns[s.kind].MatchString(s.text) {
			t.Errorf("%d: %q does not fit", s.kind, s.text)
		}
	}
}

// What Parse makes of texts put together at random: all that it takes fits.
func TestPatternFitsWhatParses(t *testing.T) {
	patterns := compiled(t)
	random := rand.New(rand.NewPCG(1, 2))
	taken := 0
	for _, k := range Kinds() {
		tokens := strings.Split("0 1 2 4 12 40 010 0.5 .5 5. ½ 1/2 0/3 1/0 2/0 - – + .. ... . unknown AWG awg", " ")
		tokens = append(tokens, " ", " ", " ", "\t")
		for _, s := range k.spellings() {
			tokens = append(tokens, string(s.text), strings.ToUpper(string(s.text)))
		}
		for range 20_000 {
			var b strings.Builder
			for range 1 + random.IntN(8) {
				b.WriteString(tokens[random.IntN(len(tokens))])
			}
			_, err := Parse(k, b.String(), source.Pos{})
			if err != nil {
				continue
			}
			taken++
			if !patterns[k].MatchString(b.String()) {
				t.Fatalf("%d: %q is read and does not fit", k, b.String())
			}
		}
	}
	if taken < 4_000 {
		t.Errorf("only %d texts were read", taken)
	}
}

// What is wrong in its form does not fit.
func TestPatternRefuses(t *testing.T) {
	patterns := compiled(t)
	for _, c := range []struct {
		kind  Kind
		texts []string
	}{
		{KindLength, []string{"12", "0", "4 A", "-3 ft", "010 ft", "3,8 m", "1e3 ft", "7 .. ", ".. 9 ft", "7 ... 9 ft", "7 - 9 ft", "7 .. 9", "12 ft 6", "ft", "+3 ft", "3 ft x", "", "0x1 ft", "1/0 ft", "none"}},
		{KindLengthFromZero, []string{"0", "12"}},
		{KindPosition, []string{"12", "-0", "00"}},
		{KindWire, []string{"15 mm", "14", "AWG", "1/0", "014 AWG", "14 AWG x", "5/0 AWG", "-14 AWG"}},
		{KindResistance, []string{"60", "60 V", "60 m", "-1 Ω"}},
		{KindCurrentFromZero, []string{"5", "5 V", "5 Ah", "-5 A"}},
		{KindVoltage, []string{"15", "15 A"}},
		{KindTime, []string{"40", "40 m"}},
		{KindCapacitance, []string{"0.1", "0.1 f"}},
		{KindAngle, []string{"60", "-60 deg"}},
		{KindPercent, []string{"5", "5 %%"}},
		{KindTemperature, []string{"20", "0", "--5 °C"}},
		{KindCount, []string{"6 ft", "-6", "06", "6 ..", ""}},
	} {
		for _, text := range c.texts {
			if patterns[c.kind].MatchString(text) {
				t.Errorf("%d: %q fits", c.kind, text)
			}
		}
	}
}
