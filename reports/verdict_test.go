package reports

import "testing"

func TestHeadline(t *testing.T) {
	for _, tt := range []struct {
		name string
		view View
		want string
	}{
		{"faults", View{Verdict: Faults, Counts: Counts{Faults: 3}}, "3 faults: do not switch on"},
		{"one fault and the rest", View{Verdict: Faults, Counts: Counts{Faults: 1, Cautions: 2, Notes: 1, Accepted: 4}}, "1 fault: do not switch on (2 cautions, 1 note, 4 accepted)"},
		{"cautions", View{Verdict: Cautions, Counts: Counts{Cautions: 2, Notes: 5}}, "2 cautions: trains may misbehave; no faults found in what was checked (5 notes)"},
		{"clean", View{Verdict: Clean, Counts: Counts{Notes: 5}}, "no faults and no cautions found in what was checked (5 notes)"},
		{"some rules", View{Verdict: Clean, Rules: [2]int{2, 30}}, "no faults and no cautions found in what was checked [2 of 30 rules ran]"},
		{"gave up", View{Verdict: Incomplete, Counts: Counts{Cautions: 1}}, "not complete: a check gave up; no faults found in what was checked (1 caution)"},
		{"not read", View{Verdict: CannotRead}, "not read: nothing was checked"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			loud, rest := tt.view.headline()
			if rest != "" {
				loud += " " + rest
			}
			if loud != tt.want {
				t.Errorf("got %q, want %q", loud, tt.want)
			}
		})
	}
}

func TestWorst(t *testing.T) {
	if got := Worst(nil); got != Clean {
		t.Errorf("of none it is %q", got)
	}
	if got := Worst([]*View{{Verdict: Cautions}, {Verdict: Faults}, {Verdict: Incomplete}}); got != Faults {
		t.Errorf("it is %q, want %q", got, Faults)
	}
}
