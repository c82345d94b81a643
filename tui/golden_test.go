package tui_test

import (
	"fmt"
	"path/filepath"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"

	"example.org/trammel/testdata"
)

// golden holds a screen to what a person has looked at.
func golden(t *testing.T, name, screen string) {
	t.Helper()
	if ansi.StringWidth("±") != 1 {
		t.Fatal("goldens are drawn with signs of one cell: unset RUNEWIDTH_EASTASIAN")
	}
	testdata.WantGolden(t, filepath.Join("testdata", name+".golden"), testdata.Barred(screen))
}

// Every state of the job on a window where little room is left, where the goldens of the panes do
// not show how they stand together.
func TestScreensAtTheBench(t *testing.T) {
	for _, s := range scenes() {
		t.Run(s.name, func(t *testing.T) {
			d := s.open(t, real(t, nil)).Size(60, 18)
			golden(t, "60x18/"+s.name, d.Screen())
		})
	}
}

// The pages that are read from two metres away, in every usual window and however the terminal draws: in its colours, without
// any, and in ASCII.
func TestPagesInEveryLook(t *testing.T) {
	looks := []struct {
		name   string
		colour termenv.Profile
		plain  bool
	}{{"", termenv.Ascii, false}, {".ansi256", termenv.ANSI256, false}, {".plain", termenv.Ascii, true}}
	seen := 0
	for _, s := range scenes() {
		switch s.name {
		case "load", "stations-5", "refused", "wind-two", "parked-two", "doubt", "settled", "assumed", "accepted", "last-wind":
		default:
			continue
		}
		seen++
		for _, look := range looks {
			o := real(t, nil)
			o.colour, o.plain = look.colour, look.plain
			d := s.open(t, o)
			for _, size := range [][2]int{{60, 18}, {80, 24}, {120, 40}, {200, 50}} {
				golden(t, fmt.Sprintf("%dx%d/%s%s", size[0], size[1], s.name, look.name), d.Size(size[0], size[1]).model.View())
			}
		}
	}
	if seen != 10 {
		t.Fatalf("%d pages, want ten", seen)
	}
}

// The form of the reference, where a picture fits beside it, where none does, and where hardly a table does.
func TestFormOnTheScreen(t *testing.T) {
	d := (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 6, nothing).Type("f")
	golden(t, "80x24/form", d.Screen())
	golden(t, "60x18/form", d.Size(60, 18).Screen())
	golden(t, "34x12/form", d.Size(34, 12).Screen())
}

// Practice draws the dial: beside the picture at a wide window; at the usual one in its place, until v swaps them.
func TestDialOnTheScreen(t *testing.T) {
	d := loaded(t, options{opened: opened(t, nil), colour: termenv.Ascii, seed: 7})
	d.Expect(Line("d take dial"), Line("one division 0.01 mm"))
	d.Type("v").Expect(Nowhere("one division"))
	d.Type("v").Expect(Line("one division 0.01 mm"))
	d.Size(140, 30).Expect(Line("one division 0.01 mm"), Line("▸", "1"))
	d.Fits(140, 30)
}

// What else is looked at in a usual window and in a wide one: the last wind but one, the steps, and what has settled on something
// unsaid.
func TestWindViews(t *testing.T) {
	for _, s := range scenes() {
		switch s.name {
		case "wind-one", "parked-one", "step", "unsaid", "pass-1", "pass-2":
			d := s.open(t, real(t, nil))
			golden(t, "80x24/"+s.name, d.Size(80, 24).Screen())
			golden(t, "120x40/"+s.name, d.Size(120, 40).Screen())
		}
	}
}
