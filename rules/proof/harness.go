package proof

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"gapwise/netlist/layout"

	"gapwise/rules"
	"gapwise/rules/finding"
	"gapwise/rules/proof/oracle"
)

// Outcome of one seeded fault.
type Outcome uint8

const (
	Found          Outcome = iota // a rule meant for it spoke, at its place
	FoundByAnother                // another rule spoke, or the meant one elsewhere
	Harmless                      // nothing spoke, and the oracle sees no new hazard
	Open                          // the report lists it as not checked, and the oracle finds it unsure
	Refused                       // the layout could no longer be read
	Missed                        // nothing spoke, and the oracle sees a hazard
)

func (o Outcome) String() string {
	return [...]string{"found", "found by another rule", "harmless", "listed as not checked", "refused by the reader", "missed"}[o]
}

// Result is what became of one seeded fault. By are the rules meant for it that spoke at its
// place; Others the further rules that spoke anew; New counts the new findings above a note.
// Why says what was missed.
type Result struct {
	Fault   Fault
	Outcome Outcome
	By      []string
	Others  []string
	New     int
	Why     string
	Text    string
}

// Base is a sound layout with what the check and the oracle say of it.
type Base struct {
	Sound
	Layout  *layout.Layout
	said    map[string]int
	open    map[string]bool // what is not checked
	hazards map[string]bool
	weak    map[string]bool // where a short trips nothing, as the oracle computes it
	// False are the findings above a note: false alarms.
	False []finding.Finding
	// Feared are the hazards that the oracle sees: there should be none.
	Feared []oracle.Hazard
}

// NewBase reads and checks a sound layout.
func NewBase(ctx context.Context, s Sound, o rules.Options) (*Base, error) {
	l, err := Read(ctx, s.Text)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, err)
	}
	r, err := rules.Check(ctx, l, o)
	if err != nil {
		return nil, err
	}
	b := &Base{Sound: s, Layout: l, said: map[string]int{}, open: map[string]bool{}, hazards: map[string]bool{}, weak: map[string]bool{}}
	for _, n := range r.NotChecked {
		b.open[n.What] = true
	}
	for i := range r.Findings {
		b.said[key(&r.Findings[i])]++
		if !r.Findings[i].Accepted && r.Findings[i].Severity > finding.Note {
			b.False = append(b.False, r.Findings[i])
		}
	}
	b.Feared, err = hazards(s.Text)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, err)
	}
	for _, h := range b.Feared {
		b.hazards[h.Kind+" "+h.Place] = true
	}
	weak, err := neverTrips(s.Text)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, err)
	}
	for _, h := range weak {
		b.weak[h] = true
	}
	return b, nil
}

// mostHazards bounds how many hazards the oracle lists.
const mostHazards = 200

func hazards(text string) ([]oracle.Hazard, error) {
	l, err := oracle.Read("layout.yaml", func(string) ([]byte, error) { return []byte(text), nil })
	if err != nil {
		return nil, err
	}
	return l.Hazards(mostHazards)
}

func key(f *finding.Finding) string {
	return fmt.Sprintf("%s %s %s", f.Rule, f.Severity, f.Place.Text)
}

// Judge seeds faults into a layout together and says what becomes of each.
func (b *Base) Judge(ctx context.Context, o rules.Options, faults ...Fault) ([]Result, error) {
	out := make([]Result, len(faults))
	for i := range faults {
		out[i].Fault = faults[i]
	}
	read := func(text string) (*layout.Layout, error) { return Read(ctx, text) }
	text, err := Seed(read, b.Text, faults...)
	if err != nil {
		return out, err
	}
	l, err := Read(ctx, text)
	if err != nil {
		if ctx.Err() != nil {
			return out, ctx.Err()
		}
		for i := range out {
			out[i].Outcome, out[i].Why, out[i].Text = Refused, err.Error(), text
		}
		return out, nil
	}
	r, err := rules.Check(ctx, l, o)
	if err != nil {
		return out, err
	}
	for i := range out {
		out[i].Text = text
		b.sort(&out[i], r.Findings)
		switch {
		case len(out[i].By) > 0:
			out[i].Outcome = Found
		case len(out[i].Others) > 0:
			out[i].Outcome = FoundByAnother
		default:
			if out[i], err = b.ask(out[i], r.NotChecked); err != nil {
				return out, err
			}
		}
	}
	return out, nil
}

// weakShort asks the oracle's own arithmetic for a short that trips nothing even in the best case, and was not there before. Sources
// whose legs meet, and guesses, are not judged.
func (b *Base) weakShort(text string) (string, error) {
	found, err := neverTrips(text)
	if err != nil {
		return "", err
	}
	for _, h := range found {
		if !b.weak[h] {
			return "a short trips nothing at " + h, nil
		}
	}
	return "", nil
}

// neverTrips lists the tracks where the oracle finds a short that trips nothing in the best case.
func neverTrips(text string) ([]string, error) {
	hs, err := oracle.Hazards(text)
	var meet *oracle.LegsMeetError
	if err != nil && !errors.As(err, &meet) {
		return nil, err
	}
	var out []string
	for _, h := range hs {
		if h.Kind == "short-never-trips" && !h.Guess && !slices.Contains(out, h.Source+" "+h.Piece) {
			out = append(out, h.Source+" "+h.Piece)
		}
	}
	return out, nil
}

// sort divides the new findings into those meant for a fault, at its place, and others.
func (b *Base) sort(out *Result, findings []finding.Finding) {
	left := map[string]int{}
	for i := range findings {
		f := &findings[i]
		if left[key(f)]++; left[key(f)] <= b.said[key(f)] {
			continue
		}
		if f.Severity > finding.Note {
			out.New++
		}
		to := &out.Others
		if slices.Contains(out.Fault.Meant, f.Rule) && out.Fault.Where.holds(f) {
			to = &out.By
		}
		if !slices.Contains(*to, f.Rule) {
			*to = append(*to, f.Rule)
		}
	}
}

// ask asks the oracle whether a fault that nothing speaks of is harmless.
func (b *Base) ask(out Result, open []finding.NotChecked) (Result, error) {
	now, err := hazards(out.Text)
	if err != nil {
		return out, fmt.Errorf("%s, %s at %v: %w", b.Name, out.Fault.Kind, out.Fault.Where, err)
	}
	out.Outcome = Harmless
	if weak, err := b.weakShort(out.Text); err != nil {
		return out, err
	} else if weak != "" {
		out.Outcome, out.Why = Missed, weak
		return out, nil
	}
	listed := slices.ContainsFunc(open, func(n finding.NotChecked) bool { return !b.open[n.What] })
	for _, h := range now {
		if b.hazards[h.Kind+" "+h.Place] {
			continue
		}
		out.Why = fmt.Sprintf("%s at %s: %s", h.Kind, h.Place, h.Detail)
		if h.Kind != "unsure" || !listed {
			out.Outcome = Missed
			break
		}
		out.Outcome = Open
	}
	return out, nil
}

// nearEnough is how far from a fault's place a finding about it may stand, in metres.
const nearEnough = 0.6

// holds reports whether a finding stands at a fault's place, or names it.
func (s Spotted) holds(f *finding.Finding) bool {
	for n, p := range s.Pieces {
		if f.Place.Piece != p {
			continue
		}
		if n > 0 || !s.Near || !f.Place.HasAt || math.Abs(f.Place.AtM-s.At) <= nearEnough {
			return true
		}
	}
	words := []string{f.Place.Text, f.Message, f.Fix}
	words = append(append(append(words, f.Also...), f.Candidates...), f.Settings...)
	text := strings.Join(words, " ; ")
	return slices.ContainsFunc(append(slices.Clone(s.Pieces), s.Names...), func(name string) bool { return names(text, name) })
}

// names reports whether a text has a name as a word of its own.
func names(text, name string) bool {
	for at := 0; ; {
		i := strings.Index(text[at:], name)
		if i < 0 {
			return false
		}
		from, to := at+i, at+i+len(name)
		if (from == 0 || !inName(text[from-1])) && (to == len(text) || !inName(text[to])) {
			return true
		}
		at = from + 1
	}
}

func inName(c byte) bool {
	return c == '-' || c == '_' || ('0' <= c && c <= '9') || ('a' <= c && c <= 'z') || ('A' <= c && c <= 'Z')
}
