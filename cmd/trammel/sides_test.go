package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/indicator/part"
)

// plateAt copies a drawing of the quadrant plate into a folder of its own, the boss unsaid, and gives a world whose
// data folder is there.
func plateAt(t *testing.T) (w world, path string) {
	t.Helper()
	home := t.TempDir()
	text, err := os.ReadFile(filepath.Join(drawingsFolder, "quadrant-plate.toml"))
	if err != nil {
		t.Fatal(err)
	}
	path = filepath.Join(home, "plate.toml")
	if err := os.WriteFile(path, []byte(strings.ReplaceAll(string(text), "metal = \"inside\"\n", "")), 0o600); err != nil {
		t.Fatal(err)
	}
	w.getenv = func(name string) string { return map[string]string{"XDG_DATA_HOME": home}[name] }
	return w, path
}

// planAt plans a drawing for a cutter of 6.
func planAt(t *testing.T, w world, path string, more func(*planFlags)) (*planned, *planFlags) {
	t.Helper()
	f := newPlanFlags()
	f.cutters = []string{"6"}
	if more != nil {
		more(&f)
	}
	p, err := readPlan(w, &common{}, &f, []string{path})
	if err != nil {
		t.Fatal(err)
	}
	return p, &f
}

// A side that is turned on the screen is kept for the drawing: planned anew, for whatever layers, and so for sheet,
// dial and blends, which plan alike, the metal is there; turned back it is as it was. The bore in the boss follows.
func TestTurnedSideIsKept(t *testing.T) {
	w, path := plateAt(t)
	p, f := planAt(t, w, path, nil)
	of := func(p *planned, layer string) *part.Arc {
		for i := range p.Part.Arcs {
			if p.Part.Arcs[i].Layer == layer {
				return &p.Part.Arcs[i]
			}
		}
		t.Fatalf("no arc on layer %s", layer)
		return nil
	}
	boss := of(p, "boss")
	if boss.Swing != 13 || of(p, "bore").Swing != 9 {
		t.Fatalf("boss %v and bore %v before, want 13 and 9", boss.Swing, of(p, "bore").Swing)
	}
	p, words, err := p.turnSide(w, &common{}, f, boss.N)
	if err != nil || p == nil || words != "its metal is inside: said here, and kept for this drawing" {
		t.Fatal(words, err)
	}
	if of(p, "boss").Swing != 19 || of(p, "bore").Swing != 3 || of(p, "boss").SideFrom != part.Stated {
		t.Errorf("boss %v and bore %v turned, want 19 and 3", of(p, "boss").Swing, of(p, "bore").Swing)
	}
	again, _ := planAt(t, w, path, func(f *planFlags) { f.layers = []string{"bore"} })
	if of(again, "bore").Swing != 3 || !strings.Contains(strings.Join(again.line.Notes, "\n"),
		"metal inside, as was said on the plan's screen") {
		t.Errorf("bore %v planned anew, notes %q, want 3, and told", of(again, "bore").Swing, again.line.Notes)
	}
	if a, err := part.Pick(again.Part, of(again, "bore").N, ""); err != nil || a.Side != "outside" || a.Swing != 3 {
		t.Errorf("set up as %+v, %v", a, err)
	}
	// Once more: it is said to be a hole, which settles the doubt; and once more: nobody says it, and the doubt is back.
	for _, want := range []struct {
		words      string
		from       part.Origin
		boss, bore float64
		unknown    bool
	}{{"its metal is outside: said here, and kept for this drawing", part.Stated, 13, 9, false},
		{"its metal is outside by nesting again, nobody says it", part.Nesting, 13, 9, true}} {
		if p, words, err = p.turnSide(w, &common{}, f, of(p, "boss").N); err != nil || words != want.words {
			t.Fatal(words, err)
		}
		unknown := slices.ContainsFunc(p.Part.Problems, func(q part.Problem) bool { return q.Kind == part.SideUnknown })
		if b := of(p, "boss"); b.Swing != want.boss || of(p, "bore").Swing != want.bore || b.SideFrom != want.from ||
			unknown != want.unknown {
			t.Errorf("%s: boss %v by %v, bore %v, unknown %v", words, b.Swing, b.SideFrom, of(p, "bore").Swing, unknown)
		}
	}
	if _, words, err = p.turnSide(w, &common{}, f, of(p, "rim").N); err != nil ||
		!strings.Contains(words, "the metal of its whole outline (8 elements) is outside") {
		t.Errorf("rim: %q, %v", words, err)
	}
	// Another text is another drawing.
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, append(text, "# seen\n"...), 0o600); err != nil {
		t.Fatal(err)
	}
	if other, _ := planAt(t, w, path, nil); len(other.turned.Sides) != 0 {
		t.Errorf("%+v kept for another drawing", other.turned)
	}
}

// What the drawing, a flag or its being a slot says is not turned, and why is said; a kept side gives way to a flag.
func TestNotTurned(t *testing.T) {
	w, path := plateAt(t)
	p, f := planAt(t, w, path, nil)
	n := map[string]int{}
	for _, a := range p.Part.Arcs {
		n[a.Layer] = a.N
	}
	why := func(p *planned, f *planFlags, n int) string {
		t.Helper()
		next, why, err := p.turnSide(w, &common{}, f, n)
		if err != nil {
			t.Fatal(err)
		}
		if next != nil {
			return ""
		}
		return why
	}
	if got := why(p, f, n["slot"]); !strings.Contains(got, "a slot's metal is outside") {
		t.Errorf("slot: %q", got)
	}
	if got := why(p, f, p.Part.Slots[0].N); !strings.Contains(got, "an open element") {
		t.Errorf("centre line: %q", got)
	}
	if got := why(p, f, n["boss"]); got != "" {
		t.Errorf("boss: %q", got)
	}
	p, f = planAt(t, w, path, func(f *planFlags) { f.metal = []string{"boss=outside"} })
	if a := p.Part.Swung(n["boss"]); a.Side != part.Outside || !strings.Contains(strings.Join(p.line.Notes, "\n"),
		"metal inside, as was said on the plan's screen; --metal boss=outside goes before it") {
		t.Errorf("boss %v, notes %q, want the flag to count, and to be told", a.Side, p.line.Notes)
	}
	if got := why(p, f, n["boss"]); !strings.Contains(got, "--metal boss=outside says it") {
		t.Errorf("boss with a flag: %q", got)
	}
	said, sf := planAt(t, w, filepath.Join(drawingsFolder, "quadrant-plate.toml"), nil)
	if got := why(said, sf, n["boss"]); !strings.Contains(got, "the drawing says it, on line ") {
		t.Errorf("boss in the drawing: %q", got)
	}
}

// A file of kept sides that cannot be read is named, with what to do.
func TestSpoiltSides(t *testing.T) {
	w, path := plateAt(t)
	p, _ := planAt(t, w, path, nil)
	kept, err := sidesFile(w, p.drawing.SHA256)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Dir(kept), 0o700); err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{"{", `{"sides":[{"at":{"X":0,"Y":0},"side":"up"}]}`} {
		if err := os.WriteFile(kept, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		f := newPlanFlags()
		if _, err := readPlan(w, &common{}, &f, []string{path}); err == nil || !strings.Contains(err.Error(),
			"the sides turned on the plan's screen cannot be read") || hint(err) == "" {
			t.Errorf("%s: %v", text, err)
		}
	}
}
