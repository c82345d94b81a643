package gauge

import (
	"fmt"
	"reflect"
	"strings"
	"testing"
)

// split makes lines of pieces, each given by itself.
func split(s Splitter, pieces ...string) (out []Line) {
	for _, p := range pieces {
		s.Add([]byte(p), func(l Line) { out = append(out, l) })
	}
	return out
}

func whole(texts ...string) (out []Line) {
	for _, t := range texts {
		out = append(out, Line{t, true})
	}
	return out
}

func TestLines(t *testing.T) {
	long := strings.Repeat("7", 1<<20)
	tests := []struct {
		name   string
		s      Splitter
		pieces []string
		want   []Line
	}{
		{"line feeds", Splitter{}, []string{"0.1\n0.2\n"}, whole("0.1", "0.2")},
		{"carriage returns", Splitter{}, []string{"0.1\r0.2\r"}, whole("0.1", "0.2")},
		{"both", Splitter{}, []string{"0.1\r\n0.2\r\n"}, whole("0.1", "0.2")},
		{"both, apart", Splitter{}, []string{"0.1\r", "\n0.2\r", "\n"}, whole("0.1", "0.2")},
		{"halves", Splitter{}, []string{"0", ".1", "1\n0.", "2"}, whole("0.11")},
		{"empty ones", Splitter{}, []string{"\n\r\n\n0.1\n\n"}, whole("0.1")},
		{"midway", Splitter{Midway: true}, []string{"18\n0.2\n"}, whole("0.2")},
		{"midway of one too long", Splitter{Midway: true}, []string{long, long + "\r0.1\n" + long + "\n"}, []Line{{"0.1", true}, {}}},
		{"midway, at an end", Splitter{Midway: true}, []string{"\n0.118\n"}, whole("0.118")},
		{"the longest", Splitter{}, []string{long[:MaxLine] + "\n"}, whole(long[:MaxLine])},
		{"one more", Splitter{}, []string{long[:MaxLine+1] + "\n0.1\n"}, []Line{{}, {"0.1", true}}},
		{"far too long", Splitter{}, []string{long, long + "\r0.1\n"}, []Line{{}, {"0.1", true}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := split(tt.s, tt.pieces...); !reflect.DeepEqual(got, tt.want) {
				t.Errorf("got %.200s, want %.200s", fmt.Sprintf("%q", texts(got)), fmt.Sprintf("%q", texts(tt.want)))
			}
		})
	}
}

// What is read does not depend on where the pieces are cut, and no more than a line is kept.
func FuzzLines(f *testing.F) {
	f.Add([]byte("0.1\r\n-0,2 mm\n\x02+0.3\x03\r"), 3, true)
	f.Add([]byte(strings.Repeat("9", MaxLine+3)+"\r1\n"), 7, false)
	f.Fuzz(func(t *testing.T, b []byte, cut int, midway bool) {
		cut = min(max(cut, 0), len(b))
		s := Splitter{Midway: midway}
		var got []Line
		take := func(l Line) { got = append(got, l) }
		s.Add(b[:cut], take)
		s.Add(b[cut:], take)
		if want := split(Splitter{Midway: midway}, string(b)); !reflect.DeepEqual(got, want) {
			t.Errorf("cut at %d: %q, whole: %q", cut, texts(got), texts(want))
		}
		if len(s.part) > MaxLine {
			t.Errorf("%d bytes are kept", len(s.part))
		}
		p, err := ParsePattern("")
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range got {
			if strings.ContainsAny(l.Text, "\r\n") || len(l.Text) > MaxLine {
				t.Errorf("line %q", l.Text)
			}
			if v, err := p.Read(l, 0, false); err == nil && (v != v || !strings.ContainsAny(l.Text, "0123456789")) {
				t.Errorf("%q is read as %v", l.Text, v)
			}
		}
	})
}

// texts are lines as they are shown, a ? for one that was passed over.
func texts(all []Line) (out []string) {
	for _, l := range all {
		if !l.Whole {
			l.Text = "?"
		}
		out = append(out, l.Text)
	}
	return out
}
