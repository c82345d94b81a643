package gauge

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"example.org/trammel/geom"
)

func reader(t *testing.T, change func(*Settings)) *Reader {
	t.Helper()
	s := Usual()
	s.Stable = 5
	change(&s)
	r, err := NewReader(s, geom.Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// A stream is told to stand still once, what is taken of it is taken once, and a movement is told once.
func TestReaderTellsChanges(t *testing.T) {
	r := reader(t, func(*Settings) {})
	r.Begin(true)
	var told []string
	send := func(i int, text string) {
		r.Add([]byte(text), simTime(i), nil)
		for _, n := range r.Changes(simTime(i)) {
			told = append(told, fmt.Sprintf("%d %.3f %v", i, n.Value, n.Stable))
		}
	}
	send(0, "118\n") // the end of a figure, as the stream was joined
	for i := 1; i <= 8; i++ {
		send(i, "0.118\n")
	}
	send(9, "0.2")
	send(10, "18\n")
	for i := 11; i <= 15; i++ {
		send(i, "0.218 mm\r\n")
	}
	send(16, strings.Repeat("0.318\n", 5)) // that came together
	if got, want := strings.Join(told, ", "), "5 0.118 true, 10 0.218 false, 14 0.218 true, 16 0.318 false, 16 0.318 true"; got != want {
		t.Errorf("told %s, want %s", got, want)
	}
	if m, err := r.Mean(simTime(16)); err != nil || m != (Mean{m.Value, 0, 5}) || abs(m.Value-0.318) > 1e-12 {
		t.Errorf("%+v, %v, want 0.318 of 5", m, err)
	}
	var moving *MovingError
	r.Forget()
	if _, err := r.Mean(simTime(15)); !errors.As(err, &moving) {
		t.Errorf("taken twice: %v", err)
	}
}

// Every line of a button is a value, the first one too; lines that are none are counted, and told once a second at the most.
func TestReaderOfAButton(t *testing.T) {
	r := reader(t, func(s *Settings) { s.Mode, s.Unit = Button, new(geom.Unit); *s.Unit = geom.Inch })
	r.Begin(true)
	var got []float64
	add := func(i int, text string) { r.Add([]byte(text), simTime(i), func(mm float64) { got = append(got, mm) }) }
	add(0, "1\nnoise\n-0.5 in\n3 mm\n")
	if n, why := r.Unread(simTime(0)); n != 2 || !strings.Contains(why.Error(), `"mm", need in`) {
		t.Errorf("%d lines, %v, want 2", n, why)
	}
	for i := range 400 { // 20 ms apart, eight seconds
		add(i, "noise\n")
		if n, _ := r.Unread(simTime(i)); (n != 0) != (i == 50 || i == 150 || i == 350) { // 1, 2 and 4 s apart
			t.Errorf("%d lines are told at %v", n, time.Duration(i)*20*time.Millisecond)
		}
	}
	if len(got) != 2 || got[0] != 25.4 || got[1] != -12.7 { // 1 in is 25.4 mm by definition
		t.Errorf("%v, want 25.4 and -12.7 mm", got)
	}
}

// What an indicator adds to its figures is taken away again, and its sense is turned into the dial's.
func TestReaderOfAPreset(t *testing.T) {
	for _, tt := range []struct {
		pressed   Pressed
		dialFalls bool
		want      float64 // of 10.118 where 10 is at zero: pressed 0.118 further where its figures grow
	}{
		{AsDial, false, 0.118}, {AsDial, true, 0.118}, {Grows, false, 0.118}, {Falls, true, 0.118}, {Falls, false, -0.118}, {Grows, true, -0.118},
	} {
		r := reader(t, func(s *Settings) { s.Mode, s.Preset, s.Pressed, s.DialFalls = Button, 10, tt.pressed, tt.dialFalls })
		var got []float64
		r.Add([]byte("10.118\n10\n"), simTime(0), func(mm float64) { got = append(got, mm) })
		if len(got) != 2 || abs(got[0]-tt.want) > 1e-9 || got[1] != 0 || math.Signbit(got[1]) {
			t.Errorf("%v of a dial that falls %v: %v, want %v and 0", tt.pressed, tt.dialFalls, got, tt.want)
		}
	}
}
