package tui_test

import (
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

// Every state of the job on a window without a picture's room, where the goldens of the panes do
// not show how they stand together.
func TestScreensAtTheBench(t *testing.T) {
	for _, s := range scenes() {
		t.Run(s.name, func(t *testing.T) {
			d := s.open(t, real(t, nil)).Size(58, 20)
			golden(t, "58x20/"+s.name, d.Screen())
		})
	}
}

// One screen with everything on it at the usual size, in its colours, and once in ASCII.
func TestWholeScreen(t *testing.T) {
	five := func(o options) *driver {
		return (&stand{41.7, -0.11, 0.15}).work(loaded(t, o), 5, nothing)
	}
	o := options{opened: opened(t, nil), colour: termenv.ANSI256}
	golden(t, "80x24/stations-5.ansi256", five(o).model.View())
	o.colour, o.plain = termenv.Ascii, true
	golden(t, "80x24/stations-5.plain", five(o).model.View())
	o.plain = false
	golden(t, "80x24/stations-5", five(o).model.View())
}

// The form of the reference, where a picture fits beside it, where none does, and where hardly a table does.
func TestFormOnTheScreen(t *testing.T) {
	d := (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 6, nothing).Type("f")
	golden(t, "80x24/form", d.Screen())
	golden(t, "58x20/form", d.Size(58, 20).Screen())
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

// The views that are read from two metres away: a load, a wind by the collar and one under the needle, and the
// last wind behind the accepted setting, at the usual window and at a wide one; and what has settled on something unsaid.
func TestWindViews(t *testing.T) {
	for _, s := range scenes() {
		switch s.name {
		case "load", "wind-two", "wind-one", "parked-two", "parked-one", "last-wind", "step", "assumed", "unsaid":
			d := s.open(t, real(t, nil))
			golden(t, "80x24/"+s.name, d.Size(80, 24).Screen())
			golden(t, "120x40/"+s.name, d.Size(120, 40).Screen())
		}
	}
}
