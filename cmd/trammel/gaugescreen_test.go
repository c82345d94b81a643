package main

import (
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
