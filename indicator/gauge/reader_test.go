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
	if m, err := r.Mean(simTime(16)); err != nil || m != (Mean{Value: m.Value, N: 5, Stay: Left}) || abs(m.Value-0.318) > 1e-12 {
		t.Errorf("%+v, %v, want 0.318 of 5", m, err)
	}
	var moving *MovingError
	r.Forget()
	if _, err := r.Mean(simTime(15)); !errors.As(err, &moving) {
		t.Errorf("taken twice: %v", err)
	}
}

// Every line of a button is a value, the first one too; lines that are none are counted, and each kind of them is told once, and
// seldom more.
func TestReaderOfAButton(t *testing.T) {
	r := reader(t, func(s *Settings) { s.Mode, s.Unit = Button, new(geom.Unit); *s.Unit, s.Most = geom.Inch, 10 })
	r.Begin(true)
	var got []float64
	var told []string
	send := func(i int, text string) {
		r.Add([]byte(text), simTime(i), func(mm float64) { got = append(got, mm) })
		if n, why := r.Unread(simTime(i)); n > 0 {
			told = append(told, fmt.Sprintf("%v: %d, %v", time.Duration(i)*20*time.Millisecond, n, why))
		}
	}
	send(0, "1\nnoise\n3 mm\n")
	for i := 1; i < 50*60*20; i++ { // twenty minutes
		send(i, map[int]string{60 * 50: "-0.5 in\n", 60*50 + 15: "9\n"}[i]+"noise\n")
	}
	want := []string{
		`0s: 1, "noise" does not fit the pattern`,
		`1s: 1, it sends "mm", need in`,
		`10s: 500, "noise" does not fit the pattern`,
		`30s: 1000,`,
		`1m10s: 2000,`,
		`2m30s: 4000,`,
		`5m10s: 8000,`,
		`10m30s: 16000,`,
	}
	if len(told) != len(want) {
		t.Fatalf("told %q", told)
	}
	for i, w := range want {
		if !strings.HasPrefix(told[i], w) {
			t.Errorf("told %q, want %q", told[i], w)
		}
	}
	if len(got) != 3 || got[0] != 25.4 || got[1] != -12.7 || abs(got[2]-9*25.4) > 1e-12 { // 1 in is 25.4 mm by definition
		t.Errorf("%v, want 25.4, -12.7 and 228.6 mm: whether the dial shows that is told to who pressed", got)
	}
}

// No hand presses a button again within 0.3 s (common practice, no source): of what comes sooner the first is taken alone, and of
// what sends all the time none before it has been silent, the line pulled out or not. It is said, and not a thousand times.
func TestReaderOfABurst(t *testing.T) {
	type sent struct {
		at   float64 // seconds
		text string
	}
	all := func(from, till, every float64) (out []sent) {
		for at := from; at < till; at += every {
			out = append(out, sent{at, "0.5\n"})
		}
		return out
	}
	for name, tt := range map[string]struct {
		sent []sent
		want int
		told string
	}{
		"a hand":           {all(0, 9, 0.3), 30, ""},
		"a button bounces": {[]sent{{0, "1\n"}, {0.02, "1\n"}, {1, "2\n"}}, 2, "1 mm comes 0.02 s behind"},
		"in one piece":     {[]sent{{0, "1\n2\n"}}, 1, "2 mm comes 0.00 s behind"},
		"all the time":     {all(0, 60, 0.1), 1, "0.5 mm comes 0.10 s behind"},
		"with pauses":      {append(append(all(0, 5, 0.1), all(6, 9, 0.1)...), all(11, 12, 0.5)...), 1, "0.5 mm comes 0.10 s behind"},
		"three too soon": {[]sent{{0, "1\n"}, {0.1, "1\n"}, {0.2, "1\n"}, {0.3, "1\n"}, {0.9, "2\n"}, {3.8, "3\n"}, {7, "4\n"}}, 2,
			"1 mm comes 0.10"},
		"two too soon":       {[]sent{{0, "1\n"}, {0.1, "1\n"}, {0.2, "1\n"}, {0.8, "2\n"}, {3.7, "3\n"}}, 3, "1 mm comes 0.10"},
		"and then by a hand": {append(all(0, 5, 0.1), all(8.5, 12, 1)...), 5, "0.5 mm comes 0.10 s behind"},
	} {
		r := reader(t, func(s *Settings) { s.Mode = Button })
		got, words, told := 0, 0, ""
		for _, x := range tt.sent {
			at := simTime(0).Add(time.Duration(math.Round(1000*x.at)) * time.Millisecond)
			if name == "with pauses" {
				r.Begin(false)
			}
			r.Add([]byte(x.text), at, func(float64) { got++ })
			if n, why := r.Unread(at); n > 0 {
				words++
				if told == "" {
					told = why.Error()
				}
			}
		}
		if got != tt.want || !strings.HasPrefix(told, tt.told) || (told == "") != (tt.told == "") || words > 4 {
			t.Errorf("%s: %d are taken and %q is said, %d times; want %d and %q", name, got, told, words, tt.want, tt.told)
		}
	}
}

// What no needle can show is no sample of a stream, and neither is another unit; and what stood before stands no more.
func TestReaderBeyondTheDial(t *testing.T) {
	for _, line := range []string{"-99.999\n", "0.8001\n", "0.9 in\n"} {
		r := reader(t, func(s *Settings) { s.Most = 0.8 })
		r.Add([]byte(strings.Repeat("0.8\n", 5)), simTime(0), nil)
		if m, err := r.Mean(simTime(0)); err != nil || m.N != 5 {
			t.Fatalf("%+v, %v, want 0.8 of 5", m, err)
		}
		r.Add([]byte(line), simTime(1), func(mm float64) { t.Errorf("%q is taken for %v mm", line, mm) })
		if m, err := r.Mean(simTime(1)); err == nil {
			t.Errorf("%q: it still stands at %+v", line, m)
		}
		got := r.Changes(simTime(1))
		if len(got) != 2 || !got[0].Stable || got[1].Stable {
			t.Errorf("%q: the needle is told as %+v", line, got)
		}
		if n, why := r.Unread(simTime(1)); n != 1 || why.(interface{ Hint() string }).Hint() == "" {
			t.Errorf("%q: %d, %v", line, n, why)
		}
	}
	r := reader(t, func(s *Settings) { s.Most = 0.8 })
	r.Add([]byte("-99.999\n"), simTime(0), nil)
	if _, why := r.Unread(simTime(0)); why == nil || why.Error() != "it sends -99.999 mm, which is off the dial (±0.4 mm)" {
		t.Errorf("%v", why)
	}
}

// A stream that goes silent is told once, and once when it sends again; one that never sent after a while; a button may be silent.
func TestReaderTellsSilence(t *testing.T) {
	at := func(s float64) time.Time { return simBegin.Add(time.Duration(s * float64(time.Second))) }
	for mode, want := range map[Mode]string{Stream: "10: 10s, 20: back, 31: 5s, 40: back, 45.5: 5s", Button: ""} {
		r := reader(t, func(s *Settings) { s.Mode = mode })
		r.Begin(true)
		var told []string
		for s := 0.0; s < 60; s += 0.5 {
			switch {
			case s >= 20 && s < 26.5, s >= 40 && s < 41: // twice a second
				r.Add([]byte("0.1\n"), at(s), nil)
			}
			gone, back := r.Silence(at(s))
			if gone > 0 {
				told = append(told, fmt.Sprintf("%v: %v", s, gone))
			}
			if back {
				told = append(told, fmt.Sprintf("%v: back", s))
			}
		}
		if got := strings.Join(told, ", "); got != want {
			t.Errorf("%v: told %q, want %q", mode, got, want)
		}
	}
}

// What an indicator adds to its figures is taken away again, and its sense is turned into the dial's.
func TestReaderOfAPreset(t *testing.T) {
	for _, tt := range []struct {
		pressed   Pressed
		dialFalls bool
		want      float64 // of 10.118 where 10 is at zero: pressed 0.118 further where its figures grow
	}{
		{AsDial, false, 0.118}, {AsDial, true, 0.118}, {Grows, false, 0.118}, {Falls, true, 0.118}, {Falls, false, -0.118},
		{Grows, true, -0.118},
	} {
		r := reader(t, func(s *Settings) { s.Mode, s.Preset, s.Pressed, s.DialFalls = Button, 10, tt.pressed, tt.dialFalls })
		var got []float64
		for i, text := range []string{"10.118\n", "10\n"} {
			r.Add([]byte(text), simTime(15*i), func(mm float64) { got = append(got, mm) }) // as soon as a hand can
		}
		if len(got) != 2 || abs(got[0]-tt.want) > 1e-9 || got[1] != 0 || math.Signbit(got[1]) {
			t.Errorf("%v of a dial that falls %v: %v, want %v and 0", tt.pressed, tt.dialFalls, got, tt.want)
		}
	}
}

// Of one that sends a line at a time no stream's mean can be made: why is told, and what to do.
func TestReaderOfALineAtATime(t *testing.T) {
	at := func(s float64) time.Time { return simBegin.Add(time.Duration(s * float64(time.Second))) }
	for apart, want := range map[float64]string{
		0.5: "2 samples since the last entry, need 5 that stand still",
		4:   `it sends a line at a time, 1 sample since the last entry: state mode = "button" (trammel gauge)`,
	} {
		r := reader(t, func(*Settings) {})
		r.Begin(false)
		for i := range 2 {
			r.Add([]byte("0.1\n"), at(apart*float64(i)), nil)
		}
		if _, err := r.Mean(at(apart + 0.5)); err == nil || err.Error() != want {
			t.Errorf("%v s apart: %v, want %s", apart, err, want)
		}
	}
}

// What lay beyond the dial as the line was lost says nothing of what the line shows once it is found again.
func TestReaderBeginsWithinTheDial(t *testing.T) {
	r := reader(t, func(s *Settings) { s.Most = 0.8 })
	r.Add([]byte("9.000\n"), simTime(0), nil)
	if m := r.Moment(simTime(0)); !m.Beyond {
		t.Fatalf("%+v, want it beyond the dial", m)
	}
	r.Begin(false)
	var moving *MovingError
	m := r.Moment(simTime(1))
	if m.Beyond || m.Has || m.Silent || !errors.As(m.Why, &moving) || moving.Beyond != nil || moving.Have != 0 {
		t.Errorf("%+v because %v, want nothing of the line before", m, m.Why)
	}
}
