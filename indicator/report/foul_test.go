package report_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"strconv"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/report"
	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
)

// mark is what stands in for a text, so that the places for one are looked for once.
const mark, marksJSON = "a text of its own\x01", `a text of its own\u0001`

var marked = func() func(t *testing.T) [][][]byte {
	var all [][][]byte
	return func(t *testing.T) [][][]byte {
		if all == nil {
			all, _ = testdata.FoulJournals(t, mark)
		}
		return all
	}
}()

// foulReports are the reports of journals in which a text stands wherever one may.
func foulReports(t *testing.T, text string) (out []report.Report, all []report.Journal) {
	t.Helper()
	escaped, err := json.Marshal(text)
	if err != nil {
		t.Fatal(err)
	}
	for _, payloads := range marked(t) {
		var events []session.Record
		for n, line := range payloads {
			line = bytes.ReplaceAll(line, []byte(marksJSON), escaped[1:len(escaped)-1])
			r, err := session.Decode(n+1, line)
			if err != nil {
				t.Fatal(err)
			}
			events = append(events, r)
		}
		out = append(out, report.New(text, events, same))
		all = append(all, report.Journal{Name: text, Events: events})
	}
	return out, all
}

// In no form of a report, and in none of a machine's months, a text makes a line of its own; in those that are files by themselves nothing
// stands that does not print, and the page holds no mark that a text has brought.
func TestNoFormIsFoul(t *testing.T) {
	const tag = "<script>alert(1)</script><img src=x onerror=y>&amp;\"'"
	reports, all := foulReports(t, testdata.Foul+tag)
	months := report.HistoryOf(geom.PrintableLine(testdata.Foul+tag), all, geom.Millimetre)
	check := func(name, text string) {
		t.Helper()
		if bad := testdata.Drives(text); bad != "" {
			t.Errorf("%s: %s", name, bad)
		}
	}
	var page bytes.Buffer
	for i := range reports {
		r := &reports[i]
		check("text", geom.Printable(r.Text(), '?', '\n'))
		var rows bytes.Buffer
		page.Reset()
		if err := r.CSV(&rows); err != nil {
			t.Fatal(err)
		}
		if err := r.HTML(&page); err != nil {
			t.Fatal(err)
		}
		check("rows", rows.String())
		check("page", page.String())
		if strings.Contains(page.String(), "<script") || strings.Contains(page.String(), "<img") {
			t.Errorf("journal %d: a text's own marks are in the page", i)
		}
	}
	page.Reset()
	if err := months.HTML(&page); err != nil {
		t.Fatal(err)
	}
	check("months", geom.Printable(months.Text(), '?', '\n'))
	check("months' page", page.String())
	if !strings.Contains(page.String(), "&lt;script&gt;") {
		t.Error("the months' page does not hold the text at all")
	}
}

// No cell of the rows is a formula: whatever a text begins with, and wherever it stands, a cell is a number or begins with something
// else. The first characters are those that OWASP names under "CSV injection" (from memory).
func TestNoCellIsAFormula(t *testing.T) {
	cells := 0
	for _, begins := range []string{"=", "+", "-", "@", "\t=", " =", "＝", "\u200b="} {
		reports, _ := foulReports(t, begins+"cmd|' /C calc'!A0")
		for i := range reports {
			var b bytes.Buffer
			if err := reports[i].CSV(&b); err != nil {
				t.Fatal(err)
			}
			rows, err := csv.NewReader(&b).ReadAll()
			if err != nil {
				t.Fatal(err)
			}
			for _, row := range rows {
				for _, cell := range row {
					if strings.Contains(cell, "calc") {
						cells++
					}
					if _, err := strconv.ParseFloat(cell, 64); err != nil &&
						strings.IndexAny(strings.TrimLeft(cell, " \t\r\n"), "=+-@＝＋－＠") == 0 {
						t.Errorf("%q: a cell is %q", begins, cell)
					}
				}
			}
		}
	}
	if cells == 0 {
		t.Error("the text is in no cell")
	}
}
