package quantity

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"gapwise/netlist/source"
)

// refused pairs a mistake with its message and the part of the text it marks.
var refused = []struct {
	kind    Kind
	text    string
	message string
	mark    string
}{
	// language.md section 10, word for word
	{KindLength, "12", "a length is in ft, in, m, cm, mm", "12"},
	{KindLength, "4 A", "a length is in ft, in, m, cm, mm", "A"},
	{KindLength, "-3 ft", "a length is more than 0", "-3"},
	{KindLength, "400 km", "over the bound, 1 km", "400 km"},
	{KindLength, "010 ft", "a leading zero; write 10 ft", "010"},
	{KindLength, "3,8 m", "a comma splits; write 3.8 m", ","},
	{KindLength, "", "no value; a length or `unknown`", ""},
	{KindLength, "9 .. 7 ft", "a range rises; 7 .. 9 ft?", "9 .. 7 ft"},
	{KindWire, "15 mm", "a wire is AWG or mm²", "mm"},
	// the same for every other kind
	{KindWire, "14", "a wire is AWG or mm²", "14"},
	{KindWire, "1/0", "a wire is AWG or mm²", "1/0"},
	{KindResistance, "5 A", "a resistance is in Ω, mΩ, kΩ, MΩ", "A"},
	{KindResistance, "12 MOHM", "a resistance is in Ω, mΩ, kΩ, MΩ", "MOHM"},
	{KindCurrent, "5 V", "a current is in A, mA", "V"},
	{KindVoltage, "5", "a voltage is in V, mV", "5"},
	{KindVoltage, "16 VAC", "a voltage is in V, mV", "VAC"},
	{KindTime, "5 ft", "a time is in s, ms, µs", "ft"},
	{KindCapacitance, "5 mF", "a capacitance is in µF, nF, pF, F", "mF"},
	{KindAngle, "5 ft", "an angle is in deg", "ft"},
	{KindPercent, "5", "a percentage is in %", "5"},
	{KindTemperature, "0", "a temperature is in °C, °F", "0"},
	{KindCount, "6 ft", "a number has no unit", "ft"},
	{KindWire, "", "no value; a wire or `unknown`", ""},
	{KindAngle, " ", "no value; an angle or `unknown`", " "},
	// zero and below
	{KindLength, "0", "a length is more than 0", "0"},
	{KindLength, "0 ft 0 in", "a length is more than 0", "0 ft 0 in"},
	{KindLength, "0/4 in", "a length is more than 0", "0/4 in"},
	{KindLength, "0 .. 3 ft", "a length is more than 0", "0"},
	{KindLength, "\u22123 ft", "a length is more than 0", "\u22123"},
	{KindLengthFromZero, "0 ft", "a length is more than 0", "0 ft"},
	{KindLengthFromZero, "0 .. 0 ft", "a length is more than 0", "0 ft"},
	{KindPosition, "-3 ft", "a length is 0 or more", "-3"},
	{KindWire, "-3 mm²", "a wire is more than 0", "-3"},
	{KindVoltageFromZero, "0 V", "a voltage is more than 0", "0 V"},
	{KindAngle, "-90 deg", "an angle is 0 or more", "-90"},
	// numbers
	{KindLength, "1e3 ft", "a number has no exponent; write it out", "1e3"},
	{KindLength, "1E-3 m", "a number has no exponent; write it out", "1E-3"},
	{KindLength, "0x10 ft", "a number is typed in plain digits", "0x10"},
	{KindLength, "1_000 ft", "a number is typed in plain digits; write 1000 ft", "1_000"},
	{KindLength, "NaN", "a length starts with a number", "NaN"},
	{KindLength, "nan ft", "a length starts with a number", "nan"},
	{KindLength, "inf ft", "a length starts with a number", "inf"},
	{KindLength, "-inf ft", "a length starts with a number", "-inf"},
	{KindLength, "+3 ft", "a number has no plus sign; write 3 ft", "+3"},
	{KindLength, "1 000 ft", "a blank splits a number; write 1000 ft", "1 000"},
	{KindLength, "1.2.3 m", "two dots in one number", "1.2.3"},
	{KindLength, ".5 m", "a number starts with a digit; write 0.5 m", ".5"},
	{KindLength, "5. m", "a dot with no digit behind it; write 5 m", "5."},
	{KindLength, "00 ft", "a leading zero; write 0 ft", "00"},
	{KindLength, "007.5 ft", "a leading zero; write 7.5 ft", "007"},
	{KindLength, "01/2 in", "a leading zero; write 1/2 in", "01"},
	{KindLength, "1/02 in", "a leading zero; write 1/2 in", "02"},
	{KindLength, "1/0 in", "a fraction over 0", "1/0"},
	{KindLength, "6 1/0 in", "a fraction over 0", "1/0"},
	{KindLength, "1/2/3 in", "a fraction is two whole numbers and one slash", "1/2/3"},
	{KindLength, "1/2.5 in", "a fraction is two whole numbers and one slash", "1/2.5"},
	{KindLength, "1 / 2 in", "a fraction is typed without blanks, such as 1/2", "/"},
	{KindLength, "6 2/2 in", "a fraction behind a whole number is under 1", "2/2"},
	{KindLength, "6 3/2 in", "a fraction behind a whole number is under 1", "3/2"},
	{KindLength, "1,200 ft", "a comma splits; write 1200 ft or 1.200 ft", ","},
	{KindLength, "1,200,000 mm", "a comma splits", ","},
	{KindLength, "5 ft, 6 in", "a comma splits; write 5 ft 6 in", ","},
	{KindLength, "５ ft", "a length starts with a number", "５"},
	{KindLength, "abc", "a length starts with a number", "abc"},
	// unknown
	{KindLength, "Unknown", "write unknown", "Unknown"},
	{KindLength, "null", "write unknown", "null"},
	{KindLength, "?", "write unknown", "?"},
	{KindLength, "unknown .. 5 ft", "unknown stands alone", "unknown"},
	{KindLength, "5 ft .. unknown", "unknown stands alone", "unknown"},
	{KindLength, "5 ft .. null", "unknown stands alone", "null"},
	// measures of two units
	{KindLength, "3 ft 14 in", "inches after feet are less than 12; 4 ft 2 in?", "14 in"},
	{KindLength, "3' 12\"", "inches after feet are less than 12; 4'?", "12\""},
	{KindLength, "3 ft 12.5 in", "inches after feet are less than 12", "12.5 in"},
	{KindLength, "3 1/2 ft 2 in", "feet before inches are a whole number", "3 1/2 ft"},
	{KindLength, "3 ft 2 ft", "two measures; a range is typed with two dots", "2 ft"},
	{KindLength, "5 ft 6 A", "a length is in ft, in, m, cm, mm", "A"},
	{KindLength, "5'6", "a length is in ft, in, m, cm, mm", "6"},
	{KindLength, "5 ft 6 in 3", "the value ends before this", "3"},
	{KindLength, "3 m 20 mm", "two measures; a range is typed with two dots", "20 mm"},
	{KindVoltage, "15 V DC", "the value ends before this", "DC"},
	// ranges
	{KindLength, "2 .. 3 ft 4 in", "the first value has no unit; 2 ft .. 3 ft 4 in?", "2"},
	{KindLength, "9 ft .. 7 ft", "a range rises; 7 ft .. 9 ft?", "9 ft .. 7 ft"},
	{KindLength, "9..7'", "a range rises; 7 .. 9'?", "9..7'"},
	{KindLength, "1 ft .. 6 in", "a range rises; 6 in .. 1 ft?", "1 ft .. 6 in"},
	{KindLength, "7 ft .. 9", "a length is in ft, in, m, cm, mm", "9"},
	{KindLength, "7 .. 9", "a length is in ft, in, m, cm, mm", "9"},
	{KindLength, "7-9 ft", "a range is typed with two dots; 7 .. 9 ft?", "-"},
	{KindLength, "7 – 9 ft", "a range is typed with two dots; 7 .. 9 ft?", "–"},
	{KindLength, "7 ft - 9 ft", "a range is typed with two dots; 7 ft .. 9 ft?", "-"},
	{KindTime, "7 ms - 9 ms", "a range is typed with two dots; 7 ms .. 9 ms?", "-"},
	{KindLength, "7 to 9 ft", "a range is typed with two dots; 7 .. 9 ft?", "to"},
	{KindLength, "7 ft to 9 ft", "a range is typed with two dots; 7 ft .. 9 ft?", "to"},
	{KindLength, "7 … 9 ft", "a range is typed with two dots; 7 .. 9 ft?", "…"},
	{KindLength, "7 ... 9 ft", "a range is typed with two dots; 7 .. 9 ft?", "..."},
	{KindLength, "7 ft ..", "a range needs a second value", ".."},
	{KindLength, ".. 7 ft", "a number is missing", ".."},
	{KindLength, "7 .. 8 .. 9 ft", "a range has two ends", ".."},
	{KindLength, "7 ft .. 8 ft .. 9 ft", "a range has two ends", ".."},
	// bounds
	{KindLength, "0.001 mm", "under the bound, 0.01 mm", "0.001 mm"},
	{KindLength, "7 .. 4000 ft", "over the bound, 1 km", "4000 ft"},
	{KindCount, "8 .. 6", "a range rises; 6 .. 8?", "8 .. 6"},
	{KindVoltage, "1200 V", "over the bound, 1 kV", "1200 V"},
	{KindTemperature, "-300 °C", "under the bound, -60 °C", "-300 °C"},
	{KindCrossingAngle, "120 deg", "over the bound, 90 deg", "120 deg"},
	{KindResistance, "60 Mohm", "over the bound, 10 MΩ", "60 Mohm"},
	// wires
	{KindWire, "41 AWG", "AWG sizes are 4/0, 3/0, 2/0, 1/0 and 1 to 40", "41"},
	{KindWire, "41 .. 14 AWG", "AWG sizes are 4/0, 3/0, 2/0, 1/0 and 1 to 40", "41"},
	{KindWire, "AWG 5/0", "AWG sizes are 4/0, 3/0, 2/0, 1/0 and 1 to 40", "5/0"},
	{KindWire, "AWG 0/0", "AWG sizes are 4/0, 3/0, 2/0, 1/0 and 1 to 40", "0/0"},
	{KindWire, "14.5 AWG", "AWG sizes are 4/0, 3/0, 2/0, 1/0 and 1 to 40", "AWG"},
	{KindWire, "AWG 14.5", "AWG sizes are 4/0, 3/0, 2/0, 1/0 and 1 to 40", "14.5"},
	{KindWire, "14.5 .. 16 AWG", "AWG sizes are 4/0, 3/0, 2/0, 1/0 and 1 to 40", "14.5"},
	{KindWire, "AWG x", "AWG sizes are 4/0, 3/0, 2/0, 1/0 and 1 to 40", "x"},
	{KindWire, "00 AWG", "a leading zero; write 2/0 AWG", "00"},
	{KindWire, "AWG 014", "a leading zero; write AWG 14", "014"},
	{KindWire, "0.75 .. 0.5 mm²", "a range rises; 0.5 .. 0.75 mm²?", "0.75 .. 0.5 mm²"},
	// what cannot be seen
	{KindLength, "5\u00a0ft", "an unusual blank or a character that cannot be seen", "\u00a0"},
	{KindLength, "5\u200b ft", "an unusual blank or a character that cannot be seen", "\u200b"},
	{KindLength, "3,8 \x1bm", "a comma splits", ","},
	{KindLength, "5 \x1b[31mft", "an unusual blank or a character that cannot be seen", "\x1b"},
}

func TestRefused(t *testing.T) {
	for _, c := range refused {
		v, err := Parse(c.kind, c.text, source.Pos{})
		if err == nil {
			t.Errorf("%q taken as %v .. %v", c.text, v.Lo, v.Hi)
			continue
		}
		if err.Message != c.message {
			t.Errorf("%q: %q, want %q", c.text, err.Message, c.message)
		}
		if err.Expected == "" || v.Said() {
			t.Errorf("%q: expected %q, said %v", c.text, err.Expected, v.Said())
		}
		if mark := string([]rune(c.text)[err.Offset : err.Offset+err.Width]); mark != c.mark {
			t.Errorf("%q: marks %q, want %q", c.text, mark, c.mark)
		}
	}
}

// A hint that offers a whole value offers one that can be read, but where the text has a
// second mistake.
func TestHintsCanBeRead(t *testing.T) {
	read := 0
	for _, c := range refused {
		_, hint, found := strings.Cut(c.message, "; ")
		offered := strings.HasPrefix(hint, "write ") && hint != "write it out" || strings.HasSuffix(hint, "?")
		if !found || !offered || c.text == "00 ft" {
			continue
		}
		hint = strings.TrimSuffix(strings.TrimPrefix(hint, "write "), "?")
		for one := range strings.SplitSeq(hint, " or ") {
			read++
			if _, err := Parse(c.kind, one, source.Pos{}); err != nil {
				t.Errorf("%q offers %q: %s", c.text, one, err.Message)
			}
		}
	}
	if read < 30 {
		t.Errorf("only %d hints read", read)
	}
}

// Long texts cost in proportion to their length and are not repeated in messages.
func TestLongTexts(t *testing.T) {
	const n = 10000
	for _, unit := range []string{"1", "0", "9.", ".", "1/", "½", "'", "1 ", "1 ft ", "-", "1-", "awg", "AWG 1 ", " ", "unknown", "1..", ",", "3,", "e1", "sq ", "\xff", "é"} {
		text := strings.Repeat(unit, n/len(unit))
		for _, k := range Kinds() {
			v, err := Parse(k, text, source.Pos{})
			if err == nil {
				if v.Lo != v.Lo || !v.Known() {
					t.Errorf("%q... taken as %v", unit, v.Lo)
				}
				continue
			}
			if utf8.RuneCountInString(err.Message) > 120 {
				t.Errorf("%q...: message of %d bytes", unit, len(err.Message))
			}
		}
	}
}

// A thousand decimals are a number like any other.
func TestManyDigits(t *testing.T) {
	for text, want := range map[string]float64{
		"0." + strings.Repeat("3", 1000) + " m":                          1.0 / 3,
		"0." + strings.Repeat("3", 21) + " m":                            1.0 / 3,
		"1." + strings.Repeat("0", 1000) + " m":                          1,
		strings.Repeat("1", 400) + " m":                                  -1,
		strings.Repeat("1", 400) + "/1 m":                                -1,
		strings.Repeat("9", 400) + "/" + strings.Repeat("9", 400) + " m": -1,
	} {
		l, err := ParseLength(text, source.Pos{})
		switch {
		case want < 0 && (err == nil || err.Message != "over the bound, 1 km"):
			t.Errorf("%.9q...: %v, %v", text, l.Lo, err)
		case want > 0 && (err != nil || l.Lo != want):
			t.Errorf("%.9q...: %v, %v", text, l.Lo, err)
		}
	}
}

func TestParseInt(t *testing.T) {
	for _, c := range []struct {
		text    string
		want    int
		message string
	}{
		{"0", 0, ""},
		{" 7 ", 7, ""},
		{"20", 20, ""},
		{"", 0, "no value; a whole number"},
		{"21", 0, "over the bound, 20"},
		{"99999999999999999999", 0, "over the bound, 20"},
		{"-1", 0, "a whole number, in plain digits"},
		{"1.5", 0, "a whole number, in plain digits"},
		{"1 .. 2", 0, "a whole number, in plain digits"},
		{"unknown", 0, "a whole number, in plain digits"},
		{"1e3", 0, "a whole number, in plain digits"},
		{"٣", 0, "a whole number, in plain digits"},
		{"007", 0, "a leading zero; write 7"},
		{"00", 0, "a leading zero; write 0"},
		{strings.Repeat("0", 50) + strings.Repeat("1", 50), 0, "a leading zero"},
	} {
		n, err := ParseInt(c.text, 0, 20)
		switch {
		case c.message == "" && (err != nil || n != c.want):
			t.Errorf("%q: %d, %v", c.text, n, err)
		case c.message != "" && (err == nil || err.Message != c.message || err.Width != utf8.RuneCountInString(c.text)):
			t.Errorf("%q: %d, %v, want %q", c.text, n, err, c.message)
		}
	}
	if _, err := ParseInt("2", 3, 20); err == nil || err.Message != "under the bound, 3" {
		t.Errorf("2 of 3..20: %v", err)
	}
}

func TestParseDecimal(t *testing.T) {
	for _, c := range []struct {
		text    string
		want    float64
		message string
	}{
		{"0", 0, ""},
		{" 18.50 ", 18.5, ""},
		{"0.05", 0.05, ""},
		{"1000", 1000, ""},
		{"", 0, "no value; a plain number"},
		{"1000.01", 0, "over the bound, 1000"},
		{strings.Repeat("9", 400), 0, "over the bound, 1000"},
		{"-1", 0, "under the bound, 0"},
		{"18,50", 0, "a plain number, with no word or sign for the money"},
		{"1e3", 0, "a plain number, with no word or sign for the money"},
		{"5.", 0, "a plain number, with no word or sign for the money"},
		{"007", 0, "a plain number, with no word or sign for the money"},
		{"unknown", 0, "a plain number, with no word or sign for the money"},
		{"NaN", 0, "a plain number, with no word or sign for the money"},
	} {
		v, err := ParseDecimal(c.text, 1000)
		switch {
		case c.message == "" && (err != nil || v != c.want):
			t.Errorf("%q: %g, %v", c.text, v, err)
		case c.message != "" && (err == nil || err.Message != c.message || err.Width != utf8.RuneCountInString(c.text)):
			t.Errorf("%q: %g, %v, want %q", c.text, v, err, c.message)
		}
	}
}

// The time of each row is to be read as a ratio: ten times the text, ten times the time.
func BenchmarkParseLong(b *testing.B) {
	for _, unit := range []string{"1", "1 ", "1/", "-", "é"} {
		for _, n := range []int{1000, 10000, 100000} {
			text := strings.Repeat(unit, n/len(unit))
			b.Run(fmt.Sprintf("%q/bytes=%d", unit, n), func(b *testing.B) {
				for b.Loop() {
					_, err := Parse(KindLength, text, source.Pos{})
					if err == nil {
						b.Fatal("taken")
					}
				}
			})
		}
	}
}
