package gauge

import (
	"strings"
	"testing"
)

// What is kept has a unit that somebody names, and a figure that was seen to move by more than what still is. What was seen stands
// where the line is lost and found, and counts no more once another figure, another unit or another line is tried.
func TestUnready(t *testing.T) {
	wants := func(x *Trying, want string) {
		t.Helper()
		err, got := x.Unready(), ""
		if err != nil {
			got = err.Error() + "; " + err.(interface{ Hint() string }).Hint()
		}
		if got != want && (want == "" || !strings.Contains(got, want)) {
			t.Errorf("it wants %q, want %q", got, want)
		}
	}
	x := try(t, func(s *Settings) { s.Source = "serial:there" })
	wants(x, "no figure has come yet, need one that is seen to move; press the plunger well in, once, and let go")
	x.Add([]byte("A1 \t-0.10 mm\nA1 \t-0.50 mm\n"), simTime(0))
	wants(x, `"A1 <HT>-0.50 mm" names no unit, need the unit of its figures stated: mm or in`) // the first number is 1
	for _, typed := range [][2]string{{"unit", "mm"}, {"pattern", "2"}} {
		if err := turn(t, x, typed[0], typed[1]); err != nil {
			t.Fatal(err)
		}
	}
	wants(x, "") // the lines that came are read anew
	for _, typed := range [][2]string{{"pressed", "fall"}, {"preset", "now"}, {"unit", "1"}} {
		if err := turn(t, x, typed[0], typed[1]); err != nil {
			t.Fatal(err)
		}
	}
	wants(x, "") // where each line names it, nobody has to
	x.Begin(true)
	wants(x, "")
	if err := turn(t, x, "baud", "300"); err != nil {
		t.Fatal(err)
	}
	wants(x, "no figure has come yet")
	x.Begin(false)
	x.Add([]byte("0.10 mm\n0.13 mm\n"), simTime(0))
	wants(x, "its figure was seen to move by 0.03 mm, need more than 0.03 mm: it may be no needle's")
	x.Add([]byte("0.14\n"), simTime(0))
	wants(x, `"0.14" names no unit`)
	x.Begin(false) // though it is lost, and no line of it stands
	wants(x, `"0.14" names no unit`)
	if err := turn(t, x, "unit", "in"); err != nil {
		t.Fatal(err)
	}
	x.Add([]byte("0.100\n0.102\n"), simTime(0)) // 0.05 mm
	wants(x, "")
	button := try(t, func(s *Settings) { s.Mode = Button })
	wants(button, "send it, press the plunger well in, and send it once more")
}
