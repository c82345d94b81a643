package indicator_test

import (
	"encoding"
	"encoding/json"
	"strings"
	"testing"

	"example.org/trammel/indicator"
)

// The words of files and journals, both ways.
func TestWords(t *testing.T) {
	type word interface {
		encoding.TextMarshaler
		String() string
	}
	for _, c := range []struct {
		value word
		want  string
	}{
		{value: indicator.Bore, want: "bore"},
		{value: indicator.Boss, want: "boss"},
		{value: indicator.Carried, want: "carried"},
		{value: indicator.Turned, want: "turned"},
		{value: indicator.NoVerdict, want: "none"},
		{value: indicator.Inside, want: "inside"},
		{value: indicator.Outside, want: "outside"},
		{value: indicator.Undecided, want: "undecided"},
	} {
		if got := c.value.String(); got != c.want {
			t.Errorf("%#v is called %q, want %q", c.value, got, c.want)
		}
		text, err := c.value.MarshalText()
		if err != nil || string(text) != c.want {
			t.Errorf("%#v is written %q, %v, want %q", c.value, text, err, c.want)
		}
		back, err := read(c.value, c.want)
		if err != nil || back != c.value {
			t.Errorf("%q is read as %#v, %v, want %#v", c.want, back, err, c.value)
		}
	}
}

// read turns a word back into a value of the same type as like.
func read(like any, word string) (any, error) {
	switch like.(type) {
	case indicator.Touch:
		x := indicator.Touch(99)
		err := x.UnmarshalText([]byte(word))
		return x, err
	case indicator.Kind:
		x := indicator.Kind(99)
		err := x.UnmarshalText([]byte(word))
		return x, err
	case indicator.Verdict:
		x := indicator.Verdict(99)
		err := x.UnmarshalText([]byte(word))
		return x, err
	}
	return nil, nil
}

func TestWordsRefused(t *testing.T) {
	for _, c := range []struct {
		like any
		need string
	}{
		{indicator.Bore, "need bore or boss"},
		{indicator.Carried, "need carried, turned or points"},
		{indicator.Inside, "need one of"},
	} {
		for _, bad := range []string{"", "Bore", "hole", "insid", "INSIDE", "boss "} {
			if _, err := read(c.like, bad); err == nil || !strings.Contains(err.Error(), c.need) {
				t.Errorf("%q as %T: %v, want a refusal with %q", bad, c.like, err, c.need)
			}
		}
	}
}

// A setup and a dial go through a journal unchanged.
func TestSetupInJSON(t *testing.T) {
	type both struct {
		S indicator.Setup
		D indicator.Dial
	}
	in := both{
		indicator.Setup{Kind: indicator.Turned, Touch: indicator.Boss, ReferenceRadius: 18.61, Reach: -11.4, ReachKnown: true,
			ZeroRadius: 3, TipDiameter: 2, IndicatorBearing: 1.5},
		indicator.Dial{Graduation: 0.01, Revolution: 1, From: -0.8, To: 0.7, ReadsTo: 0.2, AngleError: 0.002, LeverAngle: 0.1,
			Repeatability: 0.003},
	}
	text, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(text), `"kind":"turned","touch":"boss"`) {
		t.Errorf("%s: kind and touch are not written as words", text)
	}
	var out both
	if err := json.Unmarshal(text, &out); err != nil || out != in {
		t.Errorf("%s comes back as %+v, %v", text, out, err)
	}
}
