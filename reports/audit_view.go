package reports

import (
	"gapwise/netlist/conductor"

	"gapwise/rules/audit"
	"gapwise/rules/finding"
)

// AuditView is what a change to a layout did, ready to be written.
type AuditView struct {
	Files    [2]string // before and after, as the user named them
	Names    [2]string // the layouts' own names
	Verdict  Verdict   // of what is new or worse
	Complete bool      // neither check gave up
	Counts   AuditCounts

	Changes    []AuditChange
	Findings   []AuditFinding
	NotChecked []AuditOpen
	Districts  []AuditDistrict
	Sections   []AuditSection
	Blocks     []AuditBlock
	Steps      []AuditStep
	Measure    *AuditMeasure
	Unknown    []AuditUnknown
	Emptied    bool // hardly anything differs but what was taken away
}

// AuditCounts are how many of each there are. Faults, cautions and notes are those new or worse that
// the layout after does not accept.
type AuditCounts struct {
	Faults         int `json:"faults"`
	Cautions       int `json:"cautions"`
	Notes          int `json:"notes"`
	New            int `json:"new"`
	Worse          int `json:"worse"`
	Better         int `json:"better"`
	Gone           int `json:"gone"`
	Same           int `json:"same"`
	FaultsStanding int `json:"faults_standing"` // faults of before that are still there, neither worse nor gone
	NotCheckedNew  int `json:"not_checked_new"`
	NotCheckedSame int `json:"not_checked_same"`
	NotCheckedGone int `json:"not_checked_gone"`
	EntriesSame    int `json:"entries_same"`
	EntriesChanged int `json:"entries_changed"`
}

// AuditChange is one entry of the layout files that differs.
type AuditChange struct {
	What    string     `json:"what"`
	Kind    string     `json:"kind"`
	Before  []string   `json:"before"`
	After   []string   `json:"after"`
	Renamed bool       `json:"renamed"`
	Turned  bool       `json:"turned"`
	MovedM  float64    `json:"moved_m"`
	Keys    []AuditKey `json:"keys"`
}

// AuditKey is one key of an entry that differs.
type AuditKey struct {
	Key  string `json:"key"`
	From string `json:"from"`
	To   string `json:"to"`
}

// AuditFinding is one finding with what became of it. Number is what decided between worse and better, "" where the severity did.
type AuditFinding struct {
	Outcome string   `json:"outcome"`
	Number  string   `json:"number"`
	From    string   `json:"from"`
	To      string   `json:"to"`
	Before  *Finding `json:"before"`
	After   *Finding `json:"after"`
}

// AuditOpen is one line of what was not checked that only one check has.
type AuditOpen struct {
	Outcome string     `json:"outcome"`
	Line    NotChecked `json:"line"`
}

// AuditDistrict is what hangs from one source or guard, before and after.
type AuditDistrict struct {
	Name    string      `json:"name"`
	Was     string      `json:"was"`
	Changed bool        `json:"changed"`
	Before  *AuditState `json:"before"`
	After   *AuditState `json:"after"`
}

// AuditState is what a district is like; nil numbers are not known.
type AuditState struct {
	TrackM    *float64 `json:"track_m"`
	Feeders   int      `json:"feeders"`
	TripsAtA  *float64 `json:"trips_at_a"`
	LoadA     *float64 `json:"load_a"`
	DropLowV  *float64 `json:"drop_low_v"`
	DropHighV *float64 `json:"drop_high_v"`
	DropAt    string   `json:"drop_at"`
	ShortLow  *float64 `json:"short_low_a"`
	ShortHigh *float64 `json:"short_high_a"`
	ShortAt   string   `json:"short_at"`
}

// AuditSection is one reversing section, before and after.
type AuditSection struct {
	Name    string             `json:"name"`
	Was     string             `json:"was"`
	Changed bool               `json:"changed"`
	Before  *AuditSectionState `json:"before"`
	After   *AuditSectionState `json:"after"`
}

// AuditSectionState is what a reversing section is like.
type AuditSectionState struct {
	LengthM  *float64 `json:"length_m"`
	ThroughM *float64 `json:"through_m"`
	Exits    int      `json:"exits"`
}

// AuditBlock is one block as meant with the track wired for it; nil where there is none.
type AuditBlock struct {
	Name    string   `json:"name"`
	Was     string   `json:"was"`
	Changed bool     `json:"changed"`
	New     bool     `json:"new"`
	Gone    bool     `json:"gone"`
	BeforeM *float64 `json:"before_m"`
	AfterM  *float64 `json:"after_m"`
}

// AuditStep is one thing to do before power goes on.
type AuditStep struct {
	Stage string `json:"stage"`
	Text  string `json:"text"`
	Rule  string `json:"rule"`
}

// AuditMeasure is the one thing that would settle most, and how to find it out.
type AuditMeasure struct {
	What string `json:"what"`
	Spot
	Decides int      `json:"decides"`
	Open    int      `json:"open"`
	How     []string `json:"how"`
	Tried   int      `json:"tried"`
	Left    int      `json:"not_tried"`
}

// AuditUnknown is a length or a wire of track or bus that the layout after does not say, other than the one to find out first.
type AuditUnknown struct {
	What string `json:"what"`
	Spot
	How []string `json:"how"`
}

// NewAuditView is the view of an audit of two files.
func NewAuditView(files [2]string, a *audit.Audit) *AuditView {
	v := &AuditView{
		Files: files, Names: [2]string{a.Before.Layout.Name, a.After.Layout.Name},
		Complete: !a.Before.Incomplete() && !a.After.Incomplete(),
		Changes:  []AuditChange{}, Findings: []AuditFinding{}, NotChecked: []AuditOpen{}, Districts: []AuditDistrict{},
		Sections: []AuditSection{}, Blocks: []AuditBlock{}, Steps: []AuditStep{}, Unknown: []AuditUnknown{},
		Emptied: a.Emptied(),
	}
	v.count(a)
	for _, c := range a.Changes() {
		x := AuditChange{What: c.Fate.String(), Kind: c.Kind, Before: some(c.Before), After: some(c.After), Renamed: c.Renamed, Turned: c.Turned, MovedM: c.MovedM, Keys: []AuditKey{}}
		for _, k := range c.Keys {
			x.Keys = append(x.Keys, AuditKey(k))
		}
		v.Changes = append(v.Changes, x)
	}
	v.auditFindings(a)
	for _, d := range a.Districts {
		v.Districts = append(v.Districts, AuditDistrict{d.Name, d.Was, d.Changed(), auditState(d.Before), auditState(d.After)})
	}
	for _, s := range a.Sections {
		v.Sections = append(v.Sections, AuditSection{s.Name, s.Was, s.Changed(), auditSection(s.Before), auditSection(s.After)})
	}
	for _, b := range a.Blocks {
		v.Blocks = append(v.Blocks, AuditBlock{b.Name, b.Was, b.Changed(), b.IsNew, b.WasGone, finite(b.BeforeM), finite(b.AfterM)})
	}
	for _, s := range a.Steps {
		v.Steps = append(v.Steps, AuditStep{s.Stage.String(), s.Text, s.Rule})
	}
	if m := a.Measure; m != nil {
		v.Measure = &AuditMeasure{m.What, spotOf(a.After.Layout.Files, m.Pos), m.Decides, m.Open, some(m.How), m.Tried, m.Left}
	}
	for _, u := range a.Unknown {
		v.Unknown = append(v.Unknown, AuditUnknown{u.What, spotOf(a.After.Layout.Files, u.Pos), some(u.How)})
	}
	return v
}

// count counts what an audit found, and gives the verdict.
func (v *AuditView) count(a *audit.Audit) {
	c := &v.Counts
	c.Faults, c.Cautions, c.Notes = a.Count(finding.Fault), a.Count(finding.Caution), a.Count(finding.Note)
	c.New, c.Worse, c.Better = a.Outcomes(audit.New), a.Outcomes(audit.Worse), a.Outcomes(audit.Better)
	c.Gone, c.Same = a.Outcomes(audit.Gone), a.Outcomes(audit.Same)
	for i := range a.Findings {
		if f := &a.Findings[i]; f.Outcome > audit.Worse && f.After != nil && f.After.Severity == finding.Fault && !f.After.Accepted {
			c.FaultsStanding++
		}
	}
	for i := range a.NotChecked {
		if a.NotChecked[i].Outcome == audit.New {
			c.NotCheckedNew++
		} else {
			c.NotCheckedGone++
		}
	}
	c.NotCheckedSame = a.OpenSame
	c.EntriesSame, c.EntriesChanged = a.Difference.Same, len(a.Difference.Entries)
	switch {
	case c.Faults > 0:
		v.Verdict = Faults
	case !v.Complete:
		v.Verdict = Incomplete
	case c.Cautions > 0:
		v.Verdict = Cautions
	default:
		v.Verdict = Clean
	}
}

func (v *AuditView) auditFindings(a *audit.Audit) {
	for i := range a.Findings {
		f := &a.Findings[i]
		x := AuditFinding{Outcome: f.Outcome.String(), Number: f.Number, From: f.From, To: f.To}
		if f.Before != nil {
			one := newFinding(v.Files[0], a.Before.Layout.Files, f.Before)
			x.Before = &one
		}
		if f.After != nil {
			one := newFinding(v.Files[1], a.After.Layout.Files, f.After)
			x.After = &one
		}
		v.Findings = append(v.Findings, x)
	}
	for i := range a.NotChecked {
		n := &a.NotChecked[i]
		file, files := v.Files[1], a.After.Layout.Files
		if n.Outcome == audit.Gone {
			file, files = v.Files[0], a.Before.Layout.Files
		}
		v.NotChecked = append(v.NotChecked, AuditOpen{n.Outcome.String(), newNotChecked(file, files, &n.Line)})
	}
}

func auditState(d *audit.DistrictState) *AuditState {
	if d == nil {
		return nil
	}
	x := &AuditState{TrackM: finite(d.TrackM), Feeders: d.Feeders, DropAt: d.DropAt, ShortAt: d.ShortAt}
	if !d.Computed {
		return x
	}
	x.TripsAtA, x.LoadA = finite(d.TripsAtA), finite(d.LoadA)
	ends := func(r conductor.Range) (lo, hi *float64) { return finite(r.Lo), finite(r.Hi) }
	if d.DropAt != "" {
		x.DropLowV, x.DropHighV = ends(d.Drop)
	}
	x.ShortLow, x.ShortHigh = ends(d.Short)
	return x
}

func auditSection(s *audit.SectionState) *AuditSectionState {
	if s == nil {
		return nil
	}
	return &AuditSectionState{finite(s.LengthM), finite(s.ThroughM), s.Exits}
}
