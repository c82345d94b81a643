package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"
	"testing"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/practice"
)

// toldDial is what this test reads of a line of dial --lines --json.
type toldDial struct {
	Say, Slide, Because, Sense string
	Step                       any // which step of the order, or of how many winds which
	Bearing                    float64
	Moves                      []struct {
		Turn      string
		Turns     int
		Divisions float64
	}
	Park        *struct{ Bearing float64 }
	Start, Stop *float64
	Value       *float64
}

// plateHand does at a simulated machine what the lines say, and answers each by a line: it knows nothing else of the
// program.
type plateHand struct {
	t *testing.T
	m *practice.Machine
	// arc is what the shop measures of the cut arc, mm; nil where nothing can be.
	arc func() float64
	// swung are the steps that swing the cutter, and where the machine truly stood; set is where it did when the
	// setting was accepted.
	swung []swungStep
	set   practice.Truth
	steps []string
}

type swungStep struct {
	toldDial
	truth practice.Truth
}

// do answers a line; ok is false where it waits for nothing.
func (h *plateHand) do(l *toldDial) (answer string, ok bool) {
	switch l.Say {
	case "ask":
		return h.read(l.Bearing), true
	case "load":
		h.wind(l)
		return "done", true
	case "wind":
		if l.Park != nil {
			h.m.Swing(geom.FromDegrees(l.Park.Bearing))
		}
		if h.wind(l); l.Park == nil {
			return "done", true
		}
		return h.read(l.Park.Bearing), true
	case "settled":
		h.set = h.m.Truth()
		return "accept", true
	case "step":
		h.steps = append(h.steps, fmt.Sprint(l.Step))
		if l.Sense != "" {
			h.swung = append(h.swung, swungStep{*l, h.m.Truth()})
		}
		if l.Step == "measure" || l.Step == "check arc" {
			return strconv.FormatFloat(h.arc(), 'f', 2, 64), true
		}
		return "done", true
	case "did": // what may follow the last step is the next part
		return "quit", l.Step == "check arc"
	case "refused", "suspect", "doubt":
		h.t.Errorf("the hand does as it is told, and is told: %+v", *l)
		return "quit", true
	}
	return "", false
}

func (h *plateHand) read(degrees float64) string {
	h.m.Swing(geom.FromDegrees(degrees))
	n := h.m.Dial()
	if n.Off != "" {
		return "off " + n.Off
	}
	return strconv.FormatFloat(n.Reading, 'f', -1, 64)
}

func (h *plateHand) wind(l *toldDial) {
	var moves []practice.Move
	for _, m := range l.Moves {
		moves = append(moves, practice.Move{Clockwise: m.Turn == "clockwise", Turns: m.Turns, Divisions: m.Divisions})
	}
	if err := h.m.Turn(l.Slide, moves...); err != nil {
		h.t.Errorf("%+v: %v", *l, err)
	}
}

// lineReader hands on whole lines.
type lineReader struct {
	rest  []byte
	lines chan []byte
}

func (r *lineReader) Write(text []byte) (int, error) {
	r.rest = append(r.rest, text...)
	for {
		i := bytes.IndexByte(r.rest, '\n')
		if i < 0 {
			return len(text), nil
		}
		r.lines <- bytes.Clone(r.rest[:i])
		r.rest = r.rest[i+1:]
	}
}

// play runs dial --lines --json, and the hand answers what it says until it ends.
func (h *plateHand) play(args ...string) {
	h.t.Helper()
	converses(h.t, h.t.TempDir(), args, h.do)
}

// converses carries on dial in lines of JSON, read as a T each, in a home: what answers says to a line is the next input.
func converses[T any](t *testing.T, home string, args []string, answers func(*T) (string, bool)) {
	t.Helper()
	in, typed := io.Pipe()
	out := &lineReader{lines: make(chan []byte, 1<<12)}
	var complaints bytes.Buffer
	code := make(chan int, 1)
	go func() {
		code <- run(append([]string{"dial", "--lines", "--json", "--steps"}, args...), world{in: in, out: out, err: &complaints,
			now: time.Now, getenv: func(name string) string { return map[string]string{"XDG_DATA_HOME": home}[name] }})
		in.Close() // an answer that is too many is not waited for
		close(out.lines)
	}()
	for text := range out.lines {
		var l T
		if err := json.Unmarshal(text, &l); err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		if answer, ok := answers(&l); ok {
			fmt.Fprintln(typed, answer)
		}
	}
	if c := <-code; c != 0 {
		t.Fatalf("trammel dial %q: exit code %d: %s", args, c, complaints.String())
	}
}

// hundredth is a length as a caliper shows it.
func hundredth(v float64) float64 { return math.Round(100*v) / 100 }
