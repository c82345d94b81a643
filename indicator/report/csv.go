package report

import (
	"encoding/csv"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// columns are the head of the rows. Lengths are in the unit that the row names.
var columns = []string{"setting", "event", "time", "kind", "trial", "number", "slide", "bearing_deg", "value", "u95", "unit", "text",
	"stands"}

// CSV writes one row for everything that was entered, in the order of the journal (RFC 4180, lines end in
// LF): readings, stations left out, winds (the travel told), notes, acceptances (the swing radius). What
// was taken back or replaced is there too, and its last column says no.
func (r *Report) CSV(out io.Writer) error {
	w := csv.NewWriter(out)
	head, parts := columns, r.manyParts()
	if parts {
		head = append(slices.Clip(columns), "part")
	}
	if err := w.Write(head); err != nil {
		return err
	}
	for i := range r.Settings {
		s := &r.Settings[i]
		for _, e := range s.Entries {
			row := []string{strconv.Itoa(s.N), strconv.Itoa(e.Event), e.At.UTC().Format("2006-01-02T15:04:05Z"), e.Kind,
				strconv.Itoa(e.Trial), "", harmless(e.Name), "", "", "",
				s.Unit.String(), harmless(e.Text), map[bool]string{true: "yes", false: "no"}[e.Stands]}
			if e.Overtaken {
				row[11] += "; overtaken: it fits the sweep as that ended"
			}
			if e.Number > 0 {
				row[5] = strconv.Itoa(e.Number)
			}
			if e.Bearing != nil {
				row[7] = number(e.Bearing.Degrees360())
			}
			row[8], row[9] = value(s, e.Value)
			if parts {
				row = append(row, strconv.Itoa(e.Part))
			}
			if err := w.Write(row); err != nil {
				return err
			}
		}
	}
	w.Flush()
	return w.Error()
}

// manyParts reports whether any setting has served more than one part: only then is there a column that tells which.
func (r *Report) manyParts() bool {
	return slices.ContainsFunc(r.Settings, func(s Setting) bool { return s.State.Part > 1 })
}

// number writes a number with a point, to 1e-9: finer than anything that is measured.
func number(x float64) string {
	t := strconv.FormatFloat(x, 'f', 9, 64)
	t = strings.TrimRight(strings.TrimRight(t, "0"), ".")
	if t == "-0" {
		return "0"
	}
	return t
}

func value(s *Setting, v indicator.Value) (val, unc string) {
	if v.Known() {
		val = number(s.Unit.From(v.V))
		if v.Sure() {
			unc = number(s.Unit.From(v.U))
		}
	}
	return val, unc
}

// harmless takes out what does not print, and keeps a spreadsheet from taking a text for a formula: one that
// begins like one gets an apostrophe in front. (The characters are those that OWASP names under "CSV injection", from memory; their wide forms some
// programs take for the same, and blanks before them.)
func harmless(s string) string {
	s = geom.Printable(s, unicode.ReplacementChar)
	if first, _ := utf8.DecodeRuneInString(strings.TrimLeft(s, " ")); strings.ContainsRune("=+-@＝＋－＠", first) {
		return "'" + s
	}
	return s
}
