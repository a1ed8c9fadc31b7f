package quantity

// kilogramsPerPound is the pound avoirdupois, by definition.
const kilogramsPerPound = 0.45359237

// FormatMass prints kilograms as "2.67 lb (1.21 kg)" or "0.35 oz (10 g)".
func FormatMass(kilograms float64) string {
	if !finite(kilograms) {
		return "unknown"
	}
	pounds, metric := plain(significant(kilograms/kilogramsPerPound))+" lb", plain(significant(kilograms))+" kg"
	if kilograms < kilogramsPerPound {
		pounds = plain(significant(kilograms/kilogramsPerPound*16)) + " oz"
	}
	if kilograms < 1 {
		metric = plain(significant(kilograms*1e3)) + " g"
	}
	return pounds + " (" + metric + ")"
}
