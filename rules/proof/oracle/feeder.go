package oracle

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// feed is one feeder at one spot.
type feed struct {
	spot  spot
	rails [2]bool
	rail  int // of leg A
	legs  pair
	sure  bool
}

// readFeeds reads the feeders without hanging them: gaps may ask for leg A first.
func (b *builder) readFeeds() error {
	for _, e := range b.doc.sections["feeders"] {
		t := b.trackNamed(e.name)
		for _, at := range pairsOf(e.node) {
			if slices.Contains(groupWords, at.key) {
				continue
			}
			for _, item := range items(at.value) {
				if err := b.readFeed(t, e, at.key, item); err != nil {
					return fmt.Errorf("feeder %s @ %s: %w", e.name, at.key, err)
				}
			}
		}
	}
	return nil
}

func (b *builder) readFeed(t int, e entry, where string, item *yaml.Node) error {
	f := b.doc.mapFields("feeder", e.file, item, e.node)
	f.own["from"] = item
	if n := field(item, "from"); n != nil {
		f.own["from"] = n
	} else if item.Kind == yaml.MappingNode {
		delete(f.own, "from")
	}
	fd := feed{rails: [2]bool{true, true}, sure: f.text("broken") != "unknown"}
	if f.text("broken") == "yes" {
		return nil
	}
	var err error
	if fd.legs, err = b.feedLegs(f); err != nil {
		return err
	}
	if fd.rail, err = railWord(f.text("A")); err != nil {
		return fmt.Errorf("which rail has leg A?")
	}
	if rails := f.text("rails"); rails != "" && rails != "both" {
		only, err := railWord(rails)
		if err != nil {
			return err
		}
		fd.rails[1-only] = false
	}
	if t < 0 {
		if fd.spot, err = b.groupSpot(e.name, where); err != nil {
			return err
		}
		b.feeds = append(b.feeds, fd)
		return nil
	}
	ats, err := b.row(t, where, fieldText(item, "every"))
	if err != nil {
		return err
	}
	for _, at := range ats {
		if fd.spot, err = b.trackSpot(t, at); err != nil {
			return err
		}
		if x := fd.spot.end; x >= 0 && x != b.outer[t][0] && x != b.outer[t][1] {
			return fmt.Errorf("on which side of the body's edge?")
		}
		b.feeds = append(b.feeds, fd)
		b.tracks[t].legA = append(b.tracks[t].legA, legA{at, fd.rail})
	}
	return nil
}

func (b *builder) feedLegs(f fields) (pair, error) {
	legs := nowhere
	var err error
	if n := f.node("from"); n != nil {
		if legs, err = b.origin(n.Value); err != nil {
			return legs, err
		}
	}
	for leg, key := range []string{"A-from", "B-from"} {
		n := f.node(key)
		if n == nil {
			continue
		}
		own, err := b.origin(n.Value)
		if err != nil {
			return legs, err
		}
		if own[leg] < 0 {
			return legs, fmt.Errorf("%s carries no such leg", n.Value)
		}
		legs[leg] = own[leg]
	}
	return legs, nil
}

func (b *builder) hangFeeds() error {
	for _, fd := range b.feeds {
		for rail := range 2 {
			if !fd.rails[rail] {
				continue
			}
			leg := 0
			if rail != fd.rail {
				leg = 1
			}
			if fd.legs[leg] < 0 {
				return fmt.Errorf("feeder at %s: no leg %s there", b.label(fd.spot), []string{"A", "B"}[leg])
			}
			n, err := b.railNode(fd.spot, rail)
			if err != nil {
				return err
			}
			b.leg(n, fd.legs[leg], fd.sure, b.label(fd.spot))
		}
	}
	return nil
}

func (b *builder) readBonds() error {
	for _, e := range b.doc.sections["bonds"] {
		from, to := field(e.node, "from"), field(e.node, "to")
		if from == nil || to == nil {
			return fmt.Errorf("a bond runs from a place to a place")
		}
		x, err := b.freeSpot(from.Value)
		if err != nil {
			return err
		}
		y, err := b.freeSpot(to.Value)
		if err != nil {
			return err
		}
		ways := [][2]int{{0, 0}, {1, 1}}
		if rails := words(field(e.node, "rails")); len(rails) == 2 {
			at, err1 := railWord(rails[0])
			there, err2 := railWord(rails[1])
			if err1 != nil || err2 != nil {
				return fmt.Errorf("bond %s: no rails %v", from.Value, rails)
			}
			ways = [][2]int{{at, there}}
		} else if len(rails) != 1 || rails[0] != "both" {
			return fmt.Errorf("bond %s: no rails %v", from.Value, rails)
		}
		for _, w := range ways {
			n, err := b.railNode(x, w[0])
			if err != nil {
				return err
			}
			m, err := b.railNode(y, w[1])
			if err != nil {
				return err
			}
			b.join(n, m, true)
		}
	}
	return nil
}

// readBuses makes every bus known and finds those that end on another.
func (b *builder) readBuses() error {
	for _, s := range sourceSections {
		for _, e := range b.doc.sections[s[1]] {
			legs, err := b.legsOf(s[0], e.name)
			if err != nil {
				return err
			}
			to := field(e.node, "to")
			if s[0] != "bus" || to == nil || to.Value == "open" {
				continue
			}
			other, err := b.origin(strings.TrimSpace(to.Value))
			if err != nil {
				return err
			}
			b.closed = append(b.closed, closedBus{e.name, legs, other})
		}
	}
	return nil
}

// closedBus is a bus whose far end is wired to another tap.
type closedBus struct {
	name       string
	legs, ends pair
}

func (b *builder) readCommonRails() error {
	for _, e := range b.doc.sections["common-rail"] {
		rail, err := railWord(fieldText(e.node, "rail"))
		if err != nil {
			return err
		}
		for _, text := range words(field(e.node, "of")) {
			c, err := b.stretch(text, nil)
			if err != nil {
				return err
			}
			for _, n := range b.coveredNodes(c, 0) {
				if n.rail == rail {
					b.common = append(b.common, n.node)
				}
			}
		}
	}
	return nil
}

func fieldText(n *yaml.Node, key string) string {
	if v := field(n, key); v != nil {
		return v.Value
	}
	return ""
}
