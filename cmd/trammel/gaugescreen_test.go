package main

import (
	"errors"
	"strings"
	"testing"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/gauge"
)

// On a screen too a stream that falls silent is told once, with what to do, and once that it sends again; of a line that is known
// to be gone nothing is told besides, and neither is of a button.
func TestScreenTellsSilence(t *testing.T) {
	for mode, want := range map[gauge.Mode]string{
		gauge.Stream: "the cable indicator is lost: nothing has come for 5 s; see to plug and cable, and whether the indicator is on or " +
			"has gone to sleep; typing goes on\nthe cable indicator is found",
		gauge.Button: "",
	} {
		s := gauge.Usual()
		s.Mode = mode
		r, err := gauge.NewReader(s, geom.Millimetre)
		if err != nil {
			t.Fatal(err)
		}
		now := time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)
		g := &gaugedScreen{feed: &feed{reader: r}, now: func() time.Time { return now }, wake: make(chan struct{}, 1)}
		var told []string
		passes := func(seconds int, text string) {
			for range seconds * 2 {
				now = now.Add(time.Second / 2)
				if text != "" {
					g.hear(fed{bytes: []byte(text), at: now})
				}
				if m, news := g.moment(); news {
					told = append(told, m.Says...)
				}
			}
		}
		passes(5, "0.1\n")
		passes(60, "")
		if g.look() != nil {
			t.Errorf("%v: it is looked at though it is silent and all is told", mode)
		}
		passes(1, "0.1\n")
		g.hear(fed{lost: errDone})
		passes(60, "")
		if got := strings.Join(told, "\n"); got != want {
			t.Errorf("%v: told %q, want %q", mode, got, want)
		}
	}
}

// On a screen too a needle that never comes to rest is told once.
func TestScreenTellsRestlessness(t *testing.T) {
	r, err := gauge.NewReader(gauge.Usual(), geom.Inch)
	if err != nil {
		t.Fatal(err)
	}
	now := time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)
	g := &gaugedScreen{feed: &feed{reader: r}, unit: geom.Inch, now: func() time.Time { return now }, wake: make(chan struct{}, 1)}
	var told []string
	for i := range 300 {
		now = now.Add(time.Second / 10)
		g.hear(fed{bytes: []byte([]string{"0.1\n", "0.1006\n"}[i%2]), at: now})
		if m, news := g.moment(); news {
			told = append(told, m.Says...)
		}
	}
	const want = "the cable indicator is restless: it trembles by 0.0006 in and goes nowhere, more than within = 0.0003937; state within = 0.003 " +
		"(trammel gauge, or [gauge] in the machine file), or type the reading"
	if len(told) != 1 || told[0] != want {
		t.Errorf("told %q, want %q", told, want)
	}
}

// hears is an indicator's line for a screen, on a clock of its own.
type hears struct {
	*gaugedScreen
	now time.Time
}

func newHears(t *testing.T) *hears {
	t.Helper()
	s := gauge.Usual()
	s.Stable = 5
	r, err := gauge.NewReader(s, geom.Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	x := &hears{now: time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)}
	x.gaugedScreen = &gaugedScreen{feed: &feed{reader: r}, now: func() time.Time { return x.now }, wake: make(chan struct{}, 1), places: 3}
	return x
}

// sends has a line come so many times, 20 ms apart.
func (x *hears) sends(text string, times int) {
	for range times {
		x.now = x.now.Add(20 * time.Millisecond)
		x.hear(fed{bytes: []byte(text), at: x.now})
	}
}

// What a screen is handed: a moment once; what stands still no more once an entry was made; nothing of before a loss behind it, not
// even the first half of a line; that nothing more comes; and each loss by itself, however fast they follow one another.
func TestScreenIsHandedOver(t *testing.T) {
	x := newHears(t)
	x.sends("0.118\n", 5)
	if m, news := x.moment(); !news || !m.Steady || m.Value != 0.118 || m.Forgets != 0 {
		t.Errorf("five samples: %+v, news %v, want it to stand still", m, news)
	}
	if _, news := x.moment(); news {
		t.Error("the same is news once more")
	}
	if n := x.Forget(); n != 1 {
		t.Errorf("told to forget %d times, want 1", n)
	}
	if m, err := x.Take(); err == nil {
		t.Errorf("what came before an entry is taken for it: %+v", m)
	}
	if m, news := x.moment(); news {
		t.Errorf("what the screen knows by itself is news: %+v", m)
	}
	x.sends("0.118\n", 5)
	if m, news := x.moment(); !news || !m.Steady || m.Forgets != 1 {
		t.Errorf("it stands still again: %+v, news %v", m, news)
	}
	x.sends("0.3\n", 1)
	x.moment() // it moves
	x.now = x.now.Add(1500 * time.Millisecond)
	if m, news := x.moment(); !news || !m.Silent {
		t.Errorf("silent for 1.5 s: %+v, news %v", m, news)
	}

	x = newHears(t)
	x.sends("0.118\n", 5)
	x.sends("1", 1)
	x.hear(fed{lost: errDone})
	if m, _ := x.moment(); m.Lost != errDone.Error() || !m.ForGood || m.Has || m.Steady {
		t.Errorf("lost: %+v", m)
	}
	x.hear(fed{found: true, at: x.now})
	x.hear(fed{lost: errors.New("a plug\x1b[2J")})
	x.hear(fed{found: true, at: x.now})
	for _, want := range []string{"", "a plug\ufffd[2J", ""} {
		if m, news := x.moment(); !news || m.Lost != want || m.ForGood {
			t.Errorf("handed over %+v, news %v, want lost by %q", m, news, want)
		}
	}
	x.sends("0.2\n", 1)
	if m, _ := x.moment(); m.Value != 0.2 {
		t.Errorf("behind a loss: %v, want 0.2: the 1 before it was another line's", m.Value)
	}
}
