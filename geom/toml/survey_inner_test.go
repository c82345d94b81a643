package toml

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"pgregory.net/rapid"
)

// drawnForm has what the forms of files have: texts and numbers that may be missing, tables, one in another, some of a name of one's
// own, and several of a name; its names are few and short, so that what is drawn meets them.
type drawnForm struct {
	A *float64
	B struct {
		A string
		C struct{ A, B float64 }
		drawnPlay
	}
	C map[string]struct {
		A    *float64
		B    map[string]float64
		List []struct{ A, B []float64 }
	}
	D []struct {
		A *float64
		B struct{ A float64 }
		D []struct{ A float64 }
	}
}

type drawnPlay struct {
	E float64 `toml:"e"`
	F *struct{ A []string }
}

// drawnText is a text that is TOML, or nearly.
func drawnText(t *rapid.T) string {
	name := rapid.SampledFrom([]string{"a", "b", "c", "d", "e", "f", "x", "y", `"a"`, `'x'`, `"y z"`, "A", "list", "X"})
	key := rapid.Custom(func(t *rapid.T) string { return strings.Join(rapid.SliceOfN(name, 1, 3).Draw(t, "key"), ".") })
	var val *rapid.Generator[string]
	val = rapid.Custom(func(t *rapid.T) string {
		switch rapid.IntRange(0, 16).Draw(t, "kind") {
		case 0:
			return "{ " + key.Draw(t, "of") + " = " + val.Draw(t, "v") + ", " + key.Draw(t, "and") + " = " + val.Draw(t, "w") + " }"
		case 1:
			return "[{ " + key.Draw(t, "of") + " = " + val.Draw(t, "v") + "},\n{ " + name.Draw(t, "then") + " = 1, " +
				name.Draw(t, "and") + " = " + val.Draw(t, "w") + " }]"
		case 2:
			return "[" + val.Draw(t, "v") + ", # a remark\n " + val.Draw(t, "w") + "]"
		default:
			return rapid.SampledFrom([]string{"1", "1", "1", "1", "2.5", "2.5", `"t"`, `"t"`, "true", "\"\"\"\r\nx\n y\"\"\"", "[]",
				"'''\n[b]\na = 1\n'''", "2026-99-99", "99999999999999999999", "1e999", "=", "one"}).Draw(t, "plain")
		}
	})
	line := rapid.Custom(func(t *rapid.T) string {
		switch rapid.IntRange(0, 9).Draw(t, "line") {
		case 0, 1:
			return "[ " + key.Draw(t, "table") + " ] # remark"
		case 2:
			return "  [[" + key.Draw(t, "tables") + "]]\r"
		case 3:
			return rapid.SampledFrom([]string{"", "# [a]", "\t"}).Draw(t, "empty")
		default:
			return " " + key.Draw(t, "key") + " = " + val.Draw(t, "value") + " # = 1"
		}
	})
	return strings.Join(rapid.SliceOfN(line, 0, 14).Draw(t, "text"), "\n")
}

// What is found in one walk is what the decoder's own strict way finds, which is slow on many: the same values, the same keys that the
// form does not have or the same first mistake, on the same lines, in the same words.
func TestDecodeIsStrict(t *testing.T) {
	for _, text := range []string{
		// all strange, none twice
		"x = 1\nb.x = 2\n[b]\na = \"t\"\nx.y = 1\nx.z = 2\n[y]\na = 1\nb = 2\n[[d]]\nx = 1\n[[d]]\nx = 2\n",
		"[[x]]\na = 1\n[x.s]\n[[x]]\na = 1\n[x.s]\n[y]\n",
		// twice
		"[x]\na = 1\n[y]\n[x]\n", "[x.y]\n[x]\n[z]\n[x]\n", "[x]\na = 1\nb = 1\na = 2\n", "x = 1\ny = 1\nx.z = 2\n", "x.y = 1\n[y]\n[x]\n",
		"x = 1\n[[x]]\n", "[[x]]\n[x]\n", "[x]\n[[x]]\n", "x = { a = 1, a = 2 }\n", "x = [[{ a = 1 }], [{ a = 1, b.c = 1, b.c = 2 }]]\n",
		// and what is wrong before or after
		"[x]\n[a]\n[x]\n", "x = 1\nx = =\n", "a = 1\na.x = 2\n", "[b]\nf.x = 1\n[b.x]\n[b]\n", "[b]\na = \"t\"\n[x]\na = 1\na = 2\n",
		"x = [\n1,\n]\na = true\n", "[b]\nx = 1\n[b.x.y]\n",
		// what they stand in is there by them alone
		"f.x = 1\nd.x = 1\n[b.f.y]\n[c.p.x]\n[c.p.y]\n", "[d.x]\n[b.f]\nx = 1\n",
		// in values, and as they may be written
		"B.a = \"t\"\nD = [{ a = 1, x = 1, b.y = 2, d = [{ z = 1 }] }, { y = 2 }]\nc = { q = { x = 1, list = [{ x = 1 }] } }\n",
		"x = \"\"\"\r\n[b]\n\"\"\" # [b]\n[ \"x y\" . z ] # ]\n'q' = 1\n", "x = 1\r\n[[ y ]]\r\nz = '''\n'''\r\na = 1", "\ufeffx = 1", "",
	} {
		isStrict(t, []byte(text))
	}
	rapid.Check(t, func(t *rapid.T) { isStrict(t, []byte(drawnText(t))) })
}

func isStrict(t rapid.TB, text []byte) {
	t.Helper()
	var got, want drawnForm
	said, same := decode(text, &got, nil), strictly(text, &want)
	refused := len(same) > 0 && !same[0].Unknown
	if g, w := told(said), told(same); g != w || !refused && !reflect.DeepEqual(got, want) {
		t.Fatalf("%s\ngives %s\nand   %+v\nthe decoder %s\nand   %+v", text, g, got, w, want)
	}
}

// strictly decodes as the library does.
func strictly(text []byte, form any) (all []*Mistake) {
	d := toml.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	err := d.Decode(form)
	var strict *toml.StrictMissingError
	var bad *toml.DecodeError
	switch {
	case errors.As(err, &strict):
		for i := range strict.Errors {
			row, _ := strict.Errors[i].Position()
			all = append(all, &Mistake{Line: row, Key: strict.Errors[i].Key(), Unknown: true})
		}
	case errors.As(err, &bad):
		row, _ := bad.Position()
		all = append(all, &Mistake{Line: row, Key: bad.Key(), Why: why(err)})
	case err != nil:
		all = append(all, &Mistake{Why: why(err)})
	}
	return all
}

func told(all []*Mistake) string {
	var words []string
	for _, m := range all {
		words = append(words, fmt.Sprintf("%d %q %v %s", m.Line, m.Key, m.Unknown, m.Why))
	}
	return strings.Join(words, "; ")
}
