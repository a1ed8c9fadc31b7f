package power

import (
	"context"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/network"

	"gapwise/districts"
)

// mostSettings bounds how many networks of settings are solved for one head.
const mostSettings = 64

// settings solves, for track that is fed in some settings of track work only, weak networks in
// which it is. Settings that can hold together share one: what is not named stands open,
// which by Rayleigh's law gives the greater resistance.
func (s *Study) settings(ctx context.Context) error {
	s.groupSettings()
	scratch := s.builder.NewScratch()
	for _, h := range s.Heads {
		if err := h.solveSettings(ctx, scratch); err != nil {
			return err
		}
	}
	return nil
}

// groupSettings finds the settings that each head has to be solved in.
func (s *Study) groupSettings() {
	paired := make([]bool, len(s.C.Ways))
	for _, h := range s.Heads {
		if h.Weak == nil {
			continue
		}
		for i := range h.Weak.Rails {
			paired[h.Weak.Rails[i].Way] = true
		}
	}
	seen := map[[2]int32]bool{} // pairs of nets that were looked at
	nets := s.T.AlwaysJoined()
	for w := range s.C.Ways {
		way := &s.C.Ways[w]
		if way.Kind != circuit.WayTrack || paired[w] {
			continue
		}
		n := s.C.Spots[way.A].Node
		key := [2]int32{nets.Of[n[0]], nets.Of[n[1]]}
		if seen[key] {
			continue
		}
		seen[key] = true
		from, set, ok := s.T.OppositeLegs(way.A)
		if !ok || len(set) == 0 {
			continue
		}
		for _, h := range s.Heads {
			if h == s.HeadOf(from[0].Source) {
				h.groups = gather(h.groups, set)
			}
		}
	}
}

// solveSettings solves a head's weak networks, and the strong ones beside them, in its groups of settings. The error is ctx's only.
func (h *Head) solveSettings(ctx context.Context, scratch *network.Scratch) error {
	if h.Open != nil {
		return nil
	}
	builder := h.Study.builder
	h.SettingsLeft = max(0, len(h.groups)-mostSettings)
	for _, set := range h.groups[:len(h.groups)-h.SettingsLeft] {
		as := make([]network.Setting, len(set))
		for j, x := range set {
			as[j] = network.Setting{Device: x.Device, Position: x.Position}
		}
		d, err := builder.Build(ctx, scratch, h.Source, network.Weak, as)
		if err != nil {
			return err
		}
		x, open := newSolved(ctx, h, d)
		if err := ctx.Err(); err != nil {
			return err
		}
		if open != nil {
			continue
		}
		if d, err = builder.Build(ctx, scratch, h.Source, network.Strong, as); err != nil {
			return err
		}
		if x.Best, open = newSolved(ctx, h, d); open != nil {
			continue
		}
		x.Settings = set
		h.Settings = append(h.Settings, x)
	}
	return nil
}

// gather adds settings to the first group that they do not contradict.
func gather(groups [][]districts.Setting, set []districts.Setting) [][]districts.Setting {
	for i, g := range groups {
		if !slices.ContainsFunc(set, func(x districts.Setting) bool {
			return slices.ContainsFunc(g, func(y districts.Setting) bool { return x.Device == y.Device && x.Position != y.Position })
		}) {
			for _, x := range set {
				if !slices.Contains(g, x) {
					groups[i] = append(groups[i], x)
				}
			}
			return groups
		}
	}
	return append(groups, slices.Clone(set))
}
