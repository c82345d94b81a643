package pane

import (
	"slices"
	"strings"
	"testing"
)

func TestWrap(t *testing.T) {
	cases := []struct {
		text  string
		w, in int
		want  []string
	}{
		{"", 10, 2, []string{""}},
		{"one two", 10, 2, []string{"one two"}},
		{"one two three", 7, 2, []string{"one two", "  three"}},
		{"1  one two", 6, 3, []string{"1  one", "   two"}},
		{"   set in at first", 12, 5, []string{"   set in at", "     first"}},
		{"unbreakable", 4, 2, []string{"unbr", "  ea", "  ka", "  bl", "  e"}},
		{"xy", 2, 2, []string{"xy"}}, {"xyz", 2, 2, []string{"xyz"}},
		{"±0.020 −0.1", 6, 0, []string{"±0.020", "−0.1"}},
	}
	for _, c := range cases {
		if got := wrap(c.text, c.w, c.in); !slices.Equal(got, c.want) {
			t.Errorf("wrap(%q, %d, %d) = %q, want %q", c.text, c.w, c.in, got, c.want)
		}
	}
}

// What has not room for all of it ends behind a whole word, and says that there is more.
func TestToldInPart(t *testing.T) {
	th := colourless(true) // signs of one cell in every locale
	const text = "station 6, 300deg: -0.236 mm, off by -0.001 mm"
	for _, c := range []struct {
		w, most int
		want    string
	}{
		{46, 1, text}, {24, 3, "station 6, 300deg:|  -0.236 mm, off by|  -0.001 mm"}, {45, 1, "station 6, 300deg: -0.236 mm, off by..."},
		{32, 1, "station 6, 300deg: -0.236 mm,..."}, {24, 2, "station 6, 300deg:|  -0.236 mm, off by..."}, {5, 1, "st..."},
	} {
		if got := strings.Join(told(th, th.Text, text, c.w, c.most), "|"); got != c.want {
			t.Errorf("told in %d rows of %d: %q, want %q", c.most, c.w, got, c.want)
		}
	}
}

func TestAround(t *testing.T) {
	list := strings.Fields("head a b c d e")
	cases := []struct {
		present, room int
		want          string
	}{
		{1, 6, "head a b c d e"},
		{1, 3, "head a b"},
		{2, 3, "head b c"},
		{3, 4, "head b c d"},
		{5, 3, "head d e"},
		{9, 3, "head d e"}, // beyond the end: the last
		{3, 2, "head c"},
		{3, 1, "c"},
		{3, 0, ""},
	}
	for _, c := range cases {
		if got := strings.Join(around(list, c.present, c.room), " "); got != c.want {
			t.Errorf("around %d in %d = %q, want %q", c.present, c.room, got, c.want)
		}
	}
	if got := strings.Join(tail(list, 3), " "); got != "head d e" {
		t.Errorf("tail in 3 = %q, want head d e", got)
	}
}

// What others have written comes out as signs of the theme, and as nothing that drives a terminal.
func TestText(t *testing.T) {
	v := begin(t, nil).sees(true)
	if got, want := v.text("180° ±0.02 −1…"), "180deg +-0.02 -1..."; got != want {
		t.Errorf("plain: %q, want %q", got, want)
	}
	if got, want := begin(t, nil).sees(false).text("a\x1b[2J\u009b\n\u200bß°"), "a?[2J???ß°"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	for name, want := range map[string]string{"x": "X", "y": "Y", "table_x": "table X", "table_y": "table Y", "offset": "offset",
		"a\x1b": "a?"} {
		if got := SlideName(name); got != want {
			t.Errorf("SlideName(%q) = %q, want %q", name, got, want)
		}
	}
}
