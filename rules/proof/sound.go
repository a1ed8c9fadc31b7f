package proof

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"gapwise/netlist/generate"
	"gapwise/netlist/layout"
	"gapwise/netlist/reader"

	"gapwise/rules"
)

// Sound is a layout without faults, as one file.
type Sound struct {
	Name string
	Text string
}

// SoundLayouts are the sound layouts under a folder of demo layouts, written flat.
func SoundLayouts(ctx context.Context, folder string) ([]Sound, error) {
	files, err := filepath.Glob(filepath.Join(folder, "*", "*sound.yaml"))
	if err != nil {
		return nil, err
	}
	slices.Sort(files)
	var out []Sound
	for _, file := range files {
		l, problems, err := reader.ReadFile(ctx, file, rules.ReaderOptions())
		if err != nil {
			return nil, err
		}
		if len(problems) > 0 {
			return nil, fmt.Errorf("%s is not read: %s", file, problems[0].Message)
		}
		title := filepath.Base(filepath.Dir(file)) + "/" + strings.TrimSuffix(filepath.Base(file), ".yaml")
		out = append(out, Sound{Name: title, Text: Flat(l)})
	}
	return out, nil
}

// GeneratedCount is how many generated layouts there are.
const GeneratedCount = 500

// Generated is one of the generated layouts, from 0, written flat.
func Generated(i int) Sound {
	l := generate.Layout(60+7*(i%40), uint64(i+1))
	return Sound{Name: fmt.Sprintf("generated %d", i+1), Text: Flat(l)}
}

// Read reads a layout given as text.
func Read(ctx context.Context, text string) (*layout.Layout, error) {
	open := func(string) ([]byte, error) { return []byte(text), nil }
	l, problems, err := reader.Read(ctx, open, "layout.yaml", rules.ReaderOptions())
	if err != nil {
		return nil, err
	}
	if len(problems) > 0 {
		p := &problems[0]
		return nil, fmt.Errorf("line %d: %s", p.Pos.Line, p.Message)
	}
	return l, nil
}
