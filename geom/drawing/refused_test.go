package drawing_test

import (
	"errors"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
)

func TestRefusals(t *testing.T) {
	nested :=
		"0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nA\n0\nINSERT\n2\na\n0\nENDBLK\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nINSERT\n2\nA\n0\nENDSEC\n"
	line := lineText("a", geom.Point{}, geom.Point{X: 1})
	for _, c := range []struct{ name, text, want string }{
		{"binary", "Drawing Binary DXF\r\n\x1a\x00", "a binary DXF file, need a DXF file in ASCII"},
		{"another format", "AC1027\x00\x00", "a DWG file, need a DXF file in ASCII"},
		{"nothing", " \n", "an empty file, need a DXF file in ASCII"},
		{"no text", "\x89PNG\x00", "bytes that are no text, need a DXF file in ASCII"},
		{"prose", "solid plate\n", `line 1: "solid plate", need a group code, a whole number`},
		{"cut short", "0\nSECTION\n2", "line 3: the file ends after group code 2, need its value"},
		{"a word for a number", text("0\nLINE\n10\nten\n"), `line 18: "ten" of group code 10, need a number`},
		{"a comma", text("0\nLINE\n10\n1,5\n"), `line 18: "1,5" of group code 10, need a number`},
		{"no number", text("0\nLINE\n10\nNaN\n"), `line 18: "NaN" of group code 10, need a number`},
		{"too large", text("0\nLINE\n10\n1e12\n"), "line 18: 1e+12 of group code 10, need a number not beyond 1e+09"},
		{"no unit", "0\nSECTION\n2\nHEADER\n9\n$MEASUREMENT\n70\n1\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n" + line + "0\nENDSEC\n",
			"the drawing names no unit, need mm or in"},
		{"miles", strings.Replace(text(line), "70\n4\n", "70\n3\n", 1), "the drawing's unit is number 3, need one that is a length for " +
			"a workpiece"},
		{"a block in itself", nested, "line 20: more than 16 blocks in one another, need at most that many"},
		{"rows without end", strings.Replace(nested, "0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nINSERT\n",
			"0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nINSERT\n70\n32767\n71\n32767\n", 1),
			"line 32: more than 200000 blocks in place, need at most that many"},
		{"nothing of use", text("0\nTEXT\n1\nx\n"), "no line, arc or circle was read, need at least one"},
	} {
		if _, err := drawing.ReadDXF([]byte(c.text), drawing.Options{}); err == nil || err.Error() != c.want {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
	_, err := drawing.ReadDXF([]byte("Drawing Binary DXF\r\n"), drawing.Options{})
	if !errors.Is(err, drawing.ErrBinary) {
		t.Errorf("%v is not ErrBinary", err)
	}
	_, err = drawing.ReadDXF([]byte(text(line)), drawing.Options{Layers: []string{"b"}})
	if want := `no layer "b", need one of a`; err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
	var unit *drawing.UnitError
	if _, err = drawing.ReadDXF([]byte(strings.Replace(text(line), "$INSUNITS", "$MEASUREMENT", 1)), drawing.Options{}); !errors.As(err,
		&unit) || !strings.Contains(unit.Hint(), "metric") {
		t.Errorf("%v, want a hint at $MEASUREMENT", err)
	}
}

// Layers' names by code page, in UTF-8, and written out.
func TestNames(t *testing.T) {
	head := func(version, page string) string {
		return "0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\n" + version + "\n9\n$DWGCODEPAGE\n3\n" + page + "\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n"
	}
	for _, c := range []struct{ version, page, bytes, want string }{
		{"AC1015", "ANSI_1252", "B\xf6gen", "Bögen"},
		{"AC1015", "ANSI_1251", "\xc4\xf3\xe3\xe0", "Дуга"},
		{"AC1009", "dos850", "B\x94gen", "Bögen"},
		{"AC1027", "ANSI_1252", "Bögen", "Bögen"},
		{"AC1015", "ANSI_1252", `\U+5186\U+5f27`, "円弧"},
		{"AC1015", "ANSI_1252", `\U+D83D\U+DE00 \U+zz`, `😀 \U+zz`},
		{"AC1015", "ANSI_932", "\x89\xd5", "��"},
		{"AC1027", "ANSI_1252", "\x1b[2J", "�[2J"},
	} {
		s := head(c.version, c.page) + "0\nSECTION\n2\nENTITIES\n" + lineText(c.bytes, geom.Point{}, geom.Point{X: 1}) + "0\nENDSEC\n"
		out, err := drawing.ReadDXF([]byte(s), drawing.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if got := out.Open[0].From[0].Layer; got != c.want {
			t.Errorf("%s in %s: %q, want %q", c.version, c.page, got, c.want)
		}
		if told := len(out.Notes) > 0; told != (c.page == "ANSI_932") {
			t.Errorf("%s in %s: notes %q", c.version, c.page, notes(out))
		}
	}
}
