package quantity

// String prints l in feet and inches, to the nearest 1/8 in, as a layout could type it.
func (l Length) String() string { return Format(KindPosition, l.Value) }

// Both prints l in feet and inches and in metric: "7 .. 9 ft (2.13 .. 2.74 m)".
func (l Length) Both() string {
	if !l.Known() {
		return l.String()
	}
	return l.String() + " (" + l.print(FormatMetric) + ")"
}

func (r Resistance) String() string  { return Format(KindResistance, r.Value) }
func (c Current) String() string     { return Format(KindCurrent, c.Value) }
func (v Voltage) String() string     { return Format(KindVoltage, v.Value) }
func (t Time) String() string        { return Format(KindTime, t.Value) }
func (c Capacitance) String() string { return Format(KindCapacitance, c.Value) }
func (a Angle) String() string       { return Format(KindAngle, a.Value) }
func (p Percent) String() string     { return Format(KindPercent, p.Value) }
func (t Temperature) String() string { return Format(KindTemperature, t.Value) }

// String prints w as a layout could type it: "14 AWG", "2.5 mm²".
func (w Wire) String() string {
	if w.Known() && w.HasGauge {
		return AWGName(w.Gauge)
	}
	return Format(KindWire, w.Value)
}

// Both prints w with its cross-section: "14 AWG (2.08 mm²)".
func (w Wire) Both() string {
	if !w.Known() || !w.HasGauge {
		return w.String()
	}
	return w.String() + " (" + FormatArea(w.Lo) + ")"
}
