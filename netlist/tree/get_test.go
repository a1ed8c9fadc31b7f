package tree

import "testing"

func TestGet(t *testing.T) {
	root, problems := parse("M1: {use: main}\nM2: [a, b]\nM3: c\nM4:\nM5: ''\n")
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	if got := root.Get("M1").Get("use"); got == nil || got.Text != "main" || got.Pos.Col != 11 || got.Width != 4 {
		t.Errorf("M1's use is %+v", got)
	}
	if f := root.Field("M3"); f == nil || f.KeyPos.Line != 3 || f.KeyWidth != 2 {
		t.Errorf("M3 is %+v", f)
	}
	if root.Get("M9") != nil || root.Get("M3").Get("use") != nil || (*Node)(nil).Get("a") != nil {
		t.Error("found what is not there")
	}
	for key, want := range map[string]int{"M1": 1, "M2": 2, "M3": 1, "M4": 0, "M5": 1, "M9": 0} {
		if got := len(root.Get(key).List()); got != want {
			t.Errorf("%s as a list has %d items, want %d", key, got, want)
		}
	}
	empty := root.Get("M4")
	if !empty.IsEmpty() || empty.Pos.Line != 4 || empty.Pos.Col != 1 || empty.Width != 2 || root.Get("M5").IsEmpty() {
		t.Errorf("M4 is %+v, M5 %+v", empty, root.Get("M5"))
	}
}
