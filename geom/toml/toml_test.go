package toml_test

import (
	"fmt"
	"maps"
	"reflect"
	"strings"
	"testing"

	"example.org/trammel/geom/toml"
)

const text = `unit = "mm" # line 1

[head]
zero = 12
ring = { sense = "left",
  step = 5 }
[[path]]
steps = [ # line 8
  { at = [1, 2],
    blend = 3 },
  # nothing
  {}, { at = [3, 4], about = { x = 1 } },
]
[[path]]
closed = true
"a b".c = 1
`

// spelled writes a path out: names with their numbers, tables in an array by their numbers alone.
func spelled(path []toml.Part) string {
	words := make([]string, len(path))
	for i, p := range path {
		if words[i] = p.Name; p.N > 0 {
			words[i] += fmt.Sprint("#", p.N)
		}
		if p.Entry() != strings.HasPrefix(words[i], "#") {
			return "no entry"
		}
	}
	return strings.Join(words, " ")
}

// The lines are those of the text, counted by hand.
func TestLinesOf(t *testing.T) {
	want := toml.Lines{"unit": 1, "head": 3, "head zero": 4, "head ring": 5, "head ring sense": 5, "head ring step": 6, "path#1": 7,
		"path#1 steps":    8,
		"path#1 steps #1": 9, "path#1 steps #1 at": 9, "path#1 steps #1 blend": 10,
		"path#1 steps #3": 12, "path#1 steps #3 at": 12, "path#1 steps #3 about": 12, "path#1 steps #3 about x": 12,
		"path#2": 14, "path#2 closed": 15, "path#2 a b c": 16}
	got := toml.LinesOf([]byte(text), spelled)
	if !maps.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	for key, line := range map[string]int{"head zero": 4, "head zero deep down": 4, "path#1 steps #2": 8, "nowhere": 0,
		"nowhere at all": 0} {
		if got := want.Near(key, " "); got != line {
			t.Errorf("near %q: line %d, want %d", key, got, line)
		}
	}
}

// What is no TOML, or not of the form, is told with its line.
func TestDecode(t *testing.T) {
	type form struct {
		Unit string
		Head struct{ Zero float64 }
	}
	for _, c := range []struct {
		name, text string
		line       int
		key, seen  string
		unknown    bool
	}{
		{"good", "unit = \"mm\"\n[head]\nzero = 1.5", 0, "", "", false},
		{"a key too many", "unit = \"mm\"\n[head]\n turn = 1.5\r\n", 3, "head.turn", "turn = 1.5", true},
		{"a text for a number", "[head]\nzero = \"a\"", 2, "head.zero", "zero = \"a\"", false},
		{"no TOML", "unit = \"mm\"\nzero =\n", 2, "", "zero =", false},
		{"one key twice", "unit = \"mm\"\nunit = \"in\"\n", 2, "unit", "unit = \"in\"", false},
	} {
		var got form
		all, left, _ := toml.Decode([]byte(c.text), &got)
		if c.line == 0 {
			if len(all) != 0 || got.Unit != "mm" || got.Head.Zero != 1.5 || string(left) != c.text {
				t.Errorf("%s: %+v, mistakes %+v, left %q", c.name, got, all, left)
			}
			continue
		}
		if len(all) != 1 {
			t.Fatalf("%s: %d mistakes, want one", c.name, len(all))
		}
		if m := all[0]; m.Line != c.line || strings.Join(m.Key, ".") != c.key || string(m.Seen) != c.seen || m.Unknown != c.unknown ||
			(m.Why == "") != c.unknown {
			t.Errorf("%s: %+v, want line %d, key %s, seen %q", c.name, m, c.line, c.key, c.seen)
		}
	}
}

// All mistakes are told, in the order of their lines, as long as what is wrong ends on its line; what stands right between them is
// read, and every key keeps its line.
func TestDecodeAll(t *testing.T) {
	type form struct {
		Unit string
		Head struct {
			Zero, Step float64
			Ring       []float64
		}
	}
	for _, c := range []struct {
		name, text, want string // lines, and keys where the decoder knows them
		step             float64
	}{
		{"plain values", "unit = mm\n[head]\nzero = 1,5\nstep = 2\nring = [1, \"a\"]\n", "1 3 5 head.ring", 2},
		{"types", "unit = 3\n[head]\nstep = 2\nzero = \"a\" # no [number]\n", "1 unit 4 head.zero", 2},
		{"unknown keys too", "[head]\nzero = one\nturn = 1\nstep = 2\n[tail]\nx = 1\n", "2 3 head.turn 5 tail", 2},
		{"the same key twice", "[head]\nstep = 2\nstep = 3\nturn = 1\n", "3 step 4 head.turn", 2},
		{"what may go on below ends it", "[head]\nzero = [\n1,\n\"a\",\n]\nturn = 1\n", "2 head.zero", 0},
		{"so does a table", "unit = mm\n[head\nzero = x\n", "1 2", 0},
		{"and a table in a value", "head = { zero = x, step = 2 }\nturn = 1\n", "1", 0},
	} {
		var got form
		all, left, through := toml.Decode([]byte(c.text), &got)
		var words []string
		for _, m := range all {
			words = append(words, fmt.Sprint(m.Line))
			if len(m.Key) > 0 {
				words = append(words, strings.Join(m.Key, "."))
			}
		}
		if said := strings.Join(words, " "); said != c.want || got.Head.Step != c.step {
			t.Errorf("%s: mistakes %s, step %v, want %s, %v", c.name, said, got.Head.Step, c.want, c.step)
		}
		if n := strings.Count(string(left), "\n"); n != strings.Count(c.text, "\n") {
			t.Errorf("%s: %d lines are left", c.name, n)
		}
		if through != (c.step > 0) {
			t.Errorf("%s: read to its end: %v", c.name, through)
		}
	}
}

// A map has the keys that are named, and what else the text holds is told and not read; a value that cannot be is told as ever.
func TestDecodeOnly(t *testing.T) {
	const text = "unit = 'mm'\nbits.a = 1\ncutters = [8, 6]\nUnit = 'in'\nhuge = 99999999999999999999\n[head]\nunit = 1\n" +
		"[bits.b]\nx = 1\nday = 2026-99-99\n[[more]]\n[head.ring]\nmore = true\n"
	var got, want map[string]any
	all, _, through := toml.Decode([]byte(text), &got, "unit", "cutters", "head", "rings")
	var words []string
	for _, m := range all {
		words = append(words, fmt.Sprint(m.Line, " ", strings.Join(m.Key, "."), " ", m.Unknown))
	}
	const said = "2 bits.a true, 4 Unit true, 5  false, 8 bits.b true, 10  false, 11 more true"
	if s := strings.Join(words, ", "); s != said || !through {
		t.Errorf("%s, want %s; read to its end: %v", s, said, through)
	}
	toml.Decode([]byte("unit = 'mm'\ncutters = [8, 6]\n[head]\nunit = 1\nring.more = true\n"), &want)
	if !reflect.DeepEqual(got, want) || len(got) != 3 {
		t.Errorf("%v, want %v", got, want)
	}
}

// Whatever a text holds, nothing panics, and every line that is named is one of the text's.
func FuzzLinesOf(f *testing.F) {
	for _, s := range []string{text, "", "[", "[[a]]\n[[a]]", "a = {b = {c = [{d = [[{}]]}]}}", "\"\".\"\" = 1", "a = [{}, {b = 1}",
		"\xff = 1"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		most := 1 + strings.Count(string(text), "\n")
		for path, line := range toml.LinesOf(text, spelled) {
			if line < 1 || line > most {
				t.Errorf("%q on line %d of %d", path, line, most)
			}
		}
		var form map[string]any
		all, _, _ := toml.Decode(text, &form)
		for _, m := range all {
			if m.Line < 0 || m.Line > most {
				t.Errorf("mistake on line %d of %d", m.Line, most)
			}
		}
	})
}

// What stands before a mistake is read once, though the text is read again without it: two tables of a name stay two.
func TestDecodeAgainReadsOnce(t *testing.T) {
	var got struct {
		Path []struct{ Depth float64 }
		Name map[string]float64
		Zero float64
	}
	all, _, through := toml.Decode([]byte("zero = one\nname.a = 1\nname.b = two\n[[path]]\ndepth = 1\n[[path]]\ndepth = 2\n"), &got)
	if len(all) != 2 || !through || got.Zero != 0 || len(got.Path) != 2 || got.Path[1].Depth != 2 || len(got.Name) != 1 {
		t.Errorf("%d mistakes, read %+v, want two mistakes, two paths and one name", len(all), got)
	}
	// A value that is taken back with its line leaves nothing behind.
	all, _, _ = toml.Decode([]byte("zero = 3\nzero = 4\n"), &got)
	if len(all) != 1 || got.Zero != 3 || got.Path != nil {
		t.Errorf("%d mistakes, read %+v, want the first of two and nothing of the text before", len(all), got)
	}
}
