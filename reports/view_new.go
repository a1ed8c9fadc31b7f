package reports

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/source"

	"gapwise/rules"
	"gapwise/rules/catalogue"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// NewView is the view of a check of the layout in file. Findings below least are counted,
// not shown.
func NewView(file string, r *rules.Report, least finding.Severity) *View {
	v := emptyView(file, r.Layout)
	v.Complete = !r.Incomplete()
	v.Rules, v.Least = [2]int{len(r.Ran), len(catalogue.All())}, least
	v.Counts.Faults, v.Counts.Cautions, v.Counts.Notes = r.Count(finding.Fault), r.Count(finding.Caution), r.Count(finding.Note)
	v.Counts.Accepted, v.Counts.NotChecked = r.Accepted(), len(r.NotChecked)
	for i := range r.Findings {
		if r.Findings[i].Severity < least {
			v.Hidden++
			continue
		}
		v.Findings = append(v.Findings, newFinding(file, v.files, &r.Findings[i]))
	}
	for i := range r.NotChecked {
		v.NotChecked = append(v.NotChecked, newNotChecked(file, v.files, &r.NotChecked[i]))
	}
	k := &rule.Case{L: r.Layout, C: r.Trace.C, T: r.Trace, Power: r.Power}
	v.Districts, v.Blocks = newDistricts(file, k), newBlocks(file, k)
	v.Power = newPower(file, k)
	switch {
	case v.Counts.Faults > 0:
		v.Verdict = Faults
	case !v.Complete:
		v.Verdict = Incomplete
	case v.Counts.Cautions > 0:
		v.Verdict = Cautions
	default:
		v.Verdict = Clean
	}
	return v
}

// ViewOfProblems is the view of a layout with mistakes, which was not checked.
func ViewOfProblems(file string, l *layout.Layout, ps []source.Problem) *View {
	v := emptyView(file, l)
	v.Verdict = CannotRead
	v.problems = ps
	v.Counts.Problems = len(v.problems)
	for i := range v.problems {
		v.Problems = append(v.Problems, newProblem(file, v.files, &v.problems[i]))
	}
	return v
}

// ViewOfUnread is the view of a file that could not be read at all.
func ViewOfUnread(file, message string) *View {
	v := emptyView(file, &layout.Layout{})
	v.Verdict = CannotRead
	v.Counts.Problems = 1
	v.Problems = append(v.Problems, Problem{Layout: file, Spot: Spot{File: file}, Message: message})
	return v
}

func emptyView(file string, l *layout.Layout) *View {
	v := &View{
		File: file, Name: l.Name, files: l.Files, questions: l.Questions,
		Problems: []Problem{}, Questions: []Problem{}, Findings: []Finding{}, NotChecked: []NotChecked{},
		Districts: []District{}, Blocks: []Block{}, Power: []Power{},
	}
	v.Counts.Questions = len(l.Questions)
	for i := range l.Questions {
		v.Questions = append(v.Questions, newProblem(file, v.files, &l.Questions[i]))
	}
	return v
}

func newProblem(file string, files source.Files, p *source.Problem) Problem {
	out := Problem{Layout: file, Spot: spotOf(files, p.Pos), Message: p.Message, Expected: p.Expected, Nearest: p.Nearest}
	if out.File == "" && p.Pos.File >= 0 && int(p.Pos.File) < len(files) {
		out.File = files[p.Pos.File].Name
	}
	return out
}
