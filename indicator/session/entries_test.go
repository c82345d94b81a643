package session_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

// Every kind of event has a name of its own, every kind that a person enters a word for undo, and an event read from
// its own form has the row that read it.
func TestEventRows(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range session.Events() {
		if r.Kind == "" || seen[r.Kind] {
			t.Errorf("kind %q is none, or there twice", r.Kind)
		}
		seen[r.Kind] = true
	}
	for _, e := range samples(t) {
		if !seen[session.Kind(e)] {
			t.Errorf("%T: kind %q is not on the list", e, session.Kind(e))
		}
	}
	// What follows from an entry, by hand from the order of the job; all else a person enters, and takes back by a word.
	follows := []string{"opened", "told", "settled", "resweep", "doubted", "contradicted", "drifted", "tilt", "undone", "differs", "moved"}
	for _, r := range session.Events() {
		if (r.Undo == "") != slices.Contains(follows, r.Kind) {
			t.Errorf("%s: undo calls it %q, and it follows from an entry: %v", r.Kind, r.Undo, slices.Contains(follows, r.Kind))
		}
	}
	for _, e := range []session.Event{session.Swept{Why: session.ByWind}, session.ClosingAsked{}, session.Told{}} {
		if session.IsEntry(e) {
			t.Errorf("%+v comes from a person", e)
		}
	}
	for _, e := range []session.Event{session.Swept{Why: session.ByPerson}, session.ClosingAsked{Wish: true}, session.Worked{},
		session.Took{}} {
		if !session.IsEntry(e) {
			t.Errorf("%+v does not come from a person", e)
		}
	}
}

// Every row of what a person may say can be found by what it tells of itself: its word in the grammar, its forms and
// help, its key's name and reason.
func TestCommandRows(t *testing.T) {
	words, labels := map[string]bool{}, map[string]bool{}
	for _, r := range session.Commands() {
		if r.Word != "" {
			if words[r.Word] || len(r.Forms) == 0 {
				t.Errorf("%s: there twice, or without form", r.Word)
			}
			words[r.Word] = true
		}
		for _, f := range r.Forms {
			if word, _, _ := strings.Cut(f.Text, " "); word != r.Word || f.Help == "" {
				t.Errorf("%s: form %q begins otherwise, or has no help", r.Word, f.Text)
			}
		}
		if (len(r.Keys) > 0) != (r.Label != "") || (r.Label != "" && labels[r.Label]) {
			t.Errorf("%s: keys %q are called %q, which is not said or said twice", r.Word, r.Keys, r.Label)
		}
		labels[r.Label] = true
		if r.Takes() && r.Example == "" && r.Word != "note" {
			t.Errorf("%s takes figures and says not like what", r.Word)
		}
		for _, c := range r.Choices {
			if _, err := r.Say(c.Text, geom.Millimetre); err != nil || !strings.Contains(r.Asks, c.Key+" ") {
				t.Errorf("%s: choice %q is read as %v, and asked for by %q", r.Word, c.Text, err, r.Asks)
			}
		}
	}
}

// What can be typed is read as what the word means; figures stand for themselves. By hand.
func TestParse(t *testing.T) {
	by := -0.018
	for text, want := range map[string]session.Command{
		"": session.Confirm{}, " done ": session.Confirm{}, "-0,125": session.Take{Reading: -0.125},
		"12.5 -3":     session.TouchPoint{At: geom.Point{X: 12.5, Y: -3}},
		"off pressed": session.Skip{Off: session.Pressed}, "off  free": session.Skip{Off: session.Free}, "undo": session.Undo{},
		"skip": session.Skip{},
		"keep": session.Keep{}, "closing": session.AskClosing{}, "even": session.Even{}, "hold 42.1 0.05": session.Hold{Radius: 42.1,
			Limit: 0.05},
		"release": session.Release{}, "bias": session.Bias{}, "bias -0.018": session.Bias{By: &by}, "at X 3": session.At{Slide: "x", At: 3},
		"bezel -0.4 0": session.Bezel{Showed: -0.4}, "sense tip up": session.Sense{Slide: "tip", Went: session.Up},
		"height 30": session.Raise{Height: 30},
		"again":     session.Restart{}, "enough": session.Enough{}, "note plate 7": session.Note{Text: "plate 7"},
		"accept": session.Accept{}, "bumped": session.Look{}, "bumped  untouched": session.Look{Kept: true},
	} {
		got, err := session.Parse(text, geom.Millimetre)
		if err != nil || fmt.Sprintf("%T", got) != fmt.Sprintf("%T", want) || digest(got) != digest(want) {
			t.Errorf("%q: %#v, %v; want %#v", text, got, err, want)
		}
	}
	for _, text := range []string{"off", "off sideways", "undo 3", "correct", "accepted", "setup"} {
		if c, err := session.Parse(text, geom.Millimetre); !errors.Is(err, session.ErrUnknownWord) {
			t.Errorf("%q: %#v, %v; want no word", text, c, err)
		}
	}
	for _, r := range session.Commands() {
		for _, f := range r.Forms {
			if _, err := session.Parse(f.Text, geom.Millimetre); errors.Is(err, session.ErrUnknownWord) {
				t.Errorf("form %q is not known", f.Text)
			}
		}
	}
}
