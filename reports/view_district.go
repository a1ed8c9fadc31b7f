package reports

import (
	"slices"

	"gapwise/netlist/quantity"

	"gapwise/rules/rule"
)

// District is the track that hangs from one source, as wired.
type District struct {
	Layout string `json:"layout"`
	Source string `json:"source"`
	Spot
	HangsFrom  string   `json:"hangs_from"`
	Meant      []string `json:"meant"` // districts as meant that hang from it
	Feeders    int      `json:"feeders"`
	Track      string   `json:"track"`
	TrackM     *float64 `json:"track_m"`
	Parts      int      `json:"parts"`       // blocks as wired, whatever was meant
	Blocks     []string `json:"blocks"`      // blocks as meant that lie there
	SharedWith []string `json:"shared_with"` // sources that feed some of the same track
}

// newDistricts lists every source that has a feeder.
func newDistricts(file string, k *rule.Case) []District {
	out := []District{}
	for _, s := range k.T.Summaries() {
		if len(s.Feeders) == 0 {
			continue
		}
		source := &k.C.Sources[s.Source]
		d := District{
			Layout: file, Source: source.Name, Spot: spotOf(k.L.Files, source.Pos),
			Meant: []string{}, Feeders: len(s.Feeders),
			Track: quantity.FormatLength(s.Length), TrackM: finite(s.Length),
			Parts: len(s.Zones), Blocks: []string{}, SharedWith: []string{},
		}
		if source.Parent >= 0 {
			d.HangsFrom = k.C.Sources[source.Parent].Name
		}
		for i := range k.L.Districts {
			if from, _ := k.C.SourceAbove(k.L.Districts[i].From); from == s.Source {
				d.Meant = append(d.Meant, k.L.Districts[i].Name)
			}
		}
		for _, b := range s.Blocks {
			d.Blocks = append(d.Blocks, k.L.Blocks[b].Name)
		}
		for _, z := range s.Zones {
			for _, other := range k.T.Zones.List[z].Sources {
				if name := k.C.Sources[other].Name; other != s.Source && !slices.Contains(d.SharedWith, name) {
					d.SharedWith = append(d.SharedWith, name)
				}
			}
		}
		out = append(out, d)
	}
	return out
}
