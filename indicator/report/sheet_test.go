package report_test

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/report"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
	"example.org/trammel/testdata"
)

// plateSheet plans the quadrant plate and makes its sheet.
func plateSheet(t testing.TB, u geom.Unit, o part.Options, ring *setup.Ring) (*record.Plan, report.SettingSheet) {
	t.Helper()
	x := testdata.PlateLine(t, u, o, ring)
	return x, report.NewSheet(x)
}

func sheetHTML(t testing.TB, s report.SettingSheet) string {
	t.Helper()
	var b strings.Builder
	if err := s.HTML(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

var (
	onHead  = part.Options{Cutters: []float64{6, 10}, Datum: geom.Point{X: -52, Y: -52}}
	onTable = part.Options{Cutters: []float64{6}, Rotary: true, CutterBearing: geom.FromDegrees(90)}
	// A ring that is figured clockwise, with its zero at 90°.
	clockwise = setup.Ring{Zero: geom.FromDegrees(90), Figures: slide.Clockwise}
)

func TestSheetGoldens(t *testing.T) {
	_, s := plateSheet(t, geom.Millimetre, onHead, nil)
	golden(t, "sheet.txt.golden", s.Text())
	golden(t, "sheet.html.golden", sheetHTML(t, s))
	_, s = plateSheet(t, geom.Millimetre, onTable, &clockwise)
	golden(t, "sheet-turned.txt.golden", s.Text())
	_, s = plateSheet(t, geom.Inch, part.Options{Cutters: []float64{10}}, nil)
	golden(t, "sheet-in.txt.golden", s.Text())
}

// The sheet of a part on two levels has the passes, and where the cutter goes down, with each arc and straight.
func TestSheetOfLevels(t *testing.T) {
	x := testdata.TwoLevels(t, geom.Millimetre, onHead)
	s := report.NewSheet(x)
	golden(t, "sheet-levels.txt.golden", s.Text())
	for what, text := range map[string]string{"text": s.Text(), "page": sheetHTML(t, s)} {
		boss := strings.Count(text, "2 passes: 2.0, 4.0 mm, spring pass")
		rest := strings.Count(text, "4 passes: 2.5, 5.0, 7.5, 10.0 mm, spring pass")
		if boss != 1 || rest != len(x.Steps)-1 {
			t.Errorf("%s: passes to 4 mm %d times and to 10 mm %d times, want 1 and %d", what, boss, rest, len(x.Steps)-1)
		}
		if n := strings.Count(text, "go down "); n != len(x.Steps) {
			t.Errorf("%s: says %d times where the cutter goes down, want %d", what, n, len(x.Steps))
		}
	}
}

// The README's picture of the sheet is the sheet: its own page up to the end of the first setting, in its own style.
// It is laid out by whoever shows it, so that the height leaves room for a wider font.
func TestSheetPicture(t *testing.T) {
	_, s := plateSheet(t, geom.Millimetre, onHead, nil)
	page := sheetHTML(t, s)
	style := between(t, page, "<style>", "@media screen") // a picture shown small is the wide page made small
	body := strings.SplitAfterN(between(t, page, "<body>", "</body>"), "</section>", 2)[0]
	body = strings.ReplaceAll(body, "<svg ", `<svg xmlns="http://www.w3.org/2000/svg" `)
	const title = "setting sheet: the outline with its numbers, and the first setting with its arc"
	picture := `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1000 900" role="img" aria-label="` + title + `">
<title>` + title + `</title>
<style>` + style + `</style>
<foreignObject width="1000" height="900"><body xmlns="http://www.w3.org/1999/xhtml" style="height:100%">` + body + `</body></foreignObject>
<rect x=".5" y=".5" width="999" height="899" style="fill:none;stroke:var(--line)"/>
</svg>
`
	parseXML(t, picture)
	testdata.WantGolden(t, filepath.Join("..", "..", "testdata", "pictures", "sheet.svg"), picture)
}

func between(t *testing.T, text, from, to string) string {
	t.Helper()
	_, rest, begins := strings.Cut(text, from)
	inner, _, ends := strings.Cut(rest, to)
	if !begins || !ends {
		t.Fatalf("no %s … %s", from, to)
	}
	return inner
}

// page is the HTML as a strict reader of XML sees it: every element closed, every entity known. It returns
// the texts of the cells, those of one element's rows together, and all elements' names.
func sheetPage(t *testing.T, text string) (rows [][]string, elements []string, words string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(text))
	var open []string
	cell := ""
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("the page is not well formed: %v", err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			open = append(open, e.Name.Local)
			elements = append(elements, e.Name.Local)
			switch e.Name.Local {
			case "thead", "tbody":
				rows = append(rows, nil)
			case "td", "th":
				cell = ""
			}
			for _, a := range e.Attr {
				if slices.Contains([]string{"src", "href", "onload", "onclick"}, a.Name.Local) {
					t.Errorf("%s has %s=%q: the page must need nothing else", e.Name.Local, a.Name.Local, a.Value)
				}
			}
		case xml.EndElement:
			open = open[:len(open)-1]
			if n := e.Name.Local; n == "td" || n == "th" {
				rows[len(rows)-1] = append(rows[len(rows)-1], strings.TrimSpace(cell))
			}
			cell += " "
		case xml.CharData:
			if !slices.Contains(open, "style") {
				cell, words = cell+string(e), words+string(e)
			}
		}
	}
	return rows, elements, words
}

var inSheet = regexp.MustCompile(`^\d+`)

// Every figure of the sheet is the one that plan says, to the place that it is printed to, in the order of
// cutting: each element has one row, each setting one heading. Read from the page and not from the sheet.
func TestSheetFiguresArePlans(t *testing.T) {
	for name, c := range map[string]struct {
		u    geom.Unit
		o    part.Options
		ring *setup.Ring
	}{
		"head": {geom.Millimetre, onHead, nil}, "ring": {geom.Millimetre, onHead, &clockwise},
		"table": {geom.Inch, onTable, &clockwise}, "inch": {geom.Inch, onHead, nil},
	} {
		x, s := plateSheet(t, c.u, c.o, c.ring)
		rows, elements, words := sheetPage(t, sheetHTML(t, s))
		var order []int
		for _, row := range rows {
			a, l := (*record.PlanArc)(nil), (*record.PlanLine)(nil)
			for _, n := range x.Order {
				if inSheet.FindString(row[0]) == record.Numbers([]int{n}) {
					a, l = x.Arc(n), x.Line(n)
					order = append(order, n)
				}
			}
			switch {
			case a != nil:
				want := []string{x.Length(a.Cutter), x.At(a.Readout)}
				if a.Table != nil {
					want[1] = x.At(a.Wind)
				}
				start, stop := []record.Number{a.Start, a.RingStart}, []record.Number{a.Stop, a.RingStop}
				if a.Table != nil {
					start[0], stop[0] = a.TableStart, a.TableStop
				}
				for _, v := range [][]record.Number{start, stop} {
					cell := record.Angle(v[0])
					if c.ring != nil {
						cell += " (ring " + record.Angle(v[1]) + ")"
					}
					if !a.Whole() {
						want = append(want, cell)
					}
				}
				for i := range a.Ends {
					if end := a.EndAt(i) + ": " + x.EndWords(&a.Ends[i], a.N, a.Swing); !strings.Contains(strings.Join(row, "|"), end) {
						t.Errorf("%s: arc %d: no end %q in %q", name, a.N, end, row)
					}
				}
				want = append(want, a.Run().Way())
				if x.Slot(a.N) == nil {
					want = append(want, x.Length(a.Radius)+", "+a.Metal())
				}
				for _, w := range want {
					if !slices.Contains(row, w) {
						t.Errorf("%s: arc %d: no cell %q in %q", name, a.N, w, row)
					}
				}
			case l != nil:
				var by geom.Bearing
				if !x.Table && math.IsNaN(float64(l.Slide)) { // it lies askew: the work is turned first, and the readout's places with it
					by = geom.FromDegrees(float64(l.Turn))
				}
				var at []record.Place
				for _, p := range l.Readout {
					q := geom.Point{}.Along(p.Point().Bearing()+by, p.Point().Norm())
					at = append(at, record.Place{record.Number(q.X), record.Number(q.Y)})
				}
				w := "readout " + x.At(at[0]) + " to " + x.At(at[1])
				if along, across := [...]string{"X", "Y"}, 1; !x.Table {
					if math.Abs(float64(at[0][0]-at[1][0])) < math.Abs(float64(at[0][1]-at[1][1])) {
						across = 0
					}
					w = fmt.Sprintf("lock %s at %s, start at %s %s, wind %[3]s alone towards %[5]s, stop there", along[across],
						x.Length(at[0][across]), along[1-across], x.Length(at[0][1-across]), x.Length(at[1][1-across]))
				}
				if !slices.Contains(row, w) {
					t.Errorf("%s: straight %d: no cell %q in %q", name, l.N, w, row)
				}
			}
		}
		if !slices.Equal(order, x.Order) {
			t.Errorf("%s: rows %v, want the order of the plan, %v", name, order, x.Order)
		}
		sets := 0
		for _, step := range x.Steps {
			if step.Sets {
				sets++
				if want := "swing radius " + x.Length(x.Arc(step.N).Swing) + " " + x.Unit.String(); !strings.Contains(words, want) {
					t.Errorf("%s: no heading %q", name, want)
				}
			}
		}
		if got := strings.Count(words, "swing radius measured"); got != sets {
			t.Errorf("%s: %d settings with a blank, want %d", name, got, sets)
		}
		for _, n := range x.Remarks() {
			if !strings.Contains(words, n) {
				t.Errorf("%s: the note %q is missing", name, n)
			}
		}
		for _, w := range append(record.CautionsOn(record.Care{}, record.OnSheet), report.SheetBeforeDial, report.SheetBeforeCut,
			report.SheetAgain, report.SheetLast, report.SheetStraights, "lets the part go: hold it first",
			"In metal on both sides the cutter climbs on one wall") {
			if !strings.Contains(words, w) {
				t.Errorf("%s: the caution %q is missing", name, w)
			}
		}
		for _, n := range []string{"script", "link", "img", "iframe"} {
			if slices.Contains(elements, n) {
				t.Errorf("%s: the page holds a %s", name, n)
			}
		}
	}
}

// The ring stands beside the bearings: figured clockwise from 90°, the slot's 20° and 70° show 70° and 20°; on a
// table with the cutter at 90° it stands turned by 70° and 20°, which shows 20° and 70°. The outer wall is concave:
// the head goes clockwise from 70° to 20°, and a table anticlockwise from 20° to 70° of its own.
func TestSheetRing(t *testing.T) {
	for _, c := range []struct {
		o          part.Options
		begin, end string
	}{{onHead, "70° (ring 20°)", "20° (ring 70°)"}, {onTable, "20° (ring 70°)", "70° (ring 20°)"}} {
		_, s := plateSheet(t, geom.Millimetre, c.o, &clockwise)
		found := false
		for _, sec := range s.Sections {
			for _, a := range sec.Arcs {
				if a.Layer == "slot" && a.Radius == "40.000" {
					found = true
					if a.Begin != c.begin || a.End != c.end {
						t.Errorf("arc %d: %s to %s, want %s to %s", a.N, a.Begin, a.End, c.begin, c.end)
					}
				}
			}
		}
		if !found {
			t.Error("the slot's arcs are missing")
		}
	}
}

// What others have written, the names of parts and layers, stays text.
func TestSheetEscapes(t *testing.T) {
	x, _ := plateSheet(t, geom.Millimetre, onHead, nil)
	const evil = `<script>alert("1")</script>&'`
	x.Part, x.Arcs[0].Layer, x.Lines[0].Layer = evil, evil, evil
	x.Notes = append(x.Notes, evil)
	_, elements, words := sheetPage(t, sheetHTML(t, report.NewSheet(x)))
	if slices.Contains(elements, "script") {
		t.Error("a name became an element")
	}
	if got := strings.Count(words, evil); got < 4 {
		t.Errorf("%d places show the name, want it in four at least", got)
	}
}

// The picture has every number once, and every arc goes the way round that it is drawn: the ends in the
// picture are those of the element.
func TestSheetOutline(t *testing.T) {
	x, s := plateSheet(t, geom.Millimetre, onHead, nil)
	svg := string(s.Outline())
	for _, n := range x.Order {
		if got := strings.Count(svg, ">"+record.Numbers([]int{n})+"</text>"); got != 1 {
			t.Errorf("number %d stands %d times in the picture", n, got)
		}
	}
	if got, want := strings.Count(svg, `class="metal"`), len(x.Order)-len(x.Slots); got != want {
		t.Errorf("%d elements in the picture, want %d", got, want)
	}
	if strings.Contains(svg, "NaN") || strings.Contains(svg, "Inf") {
		t.Errorf("the picture holds what is no number:\n%s", svg)
	}
}

// On a narrow screen the rows stand one under the other and the headings are gone: each figure then has its column's
// name beside it.
func TestSheetFiguresKeepTheirNames(t *testing.T) {
	for name, o := range map[string]part.Options{"head": onHead, "table": onTable} {
		_, s := plateSheet(t, geom.Millimetre, o, nil)
		doc := parseXML(t, sheetHTML(t, s))
		tables := doc.all("table")
		if len(tables) < 3 {
			t.Fatalf("%s: %d tables", name, len(tables))
		}
		for _, table := range tables {
			var want []string
			for _, h := range table.all("th") {
				want = append(want, h.Text)
			}
			for _, body := range table.all("tbody") {
				if body.attr("class") == "first" { // words alone, across the table
					continue
				}
				var got []string
				for _, cell := range body.all("tr")[0].all("td") {
					got = append(got, cell.attr("data-is"))
				}
				if !slices.Equal(got, want) {
					t.Errorf("%s: cells are named %q, want %q", name, got, want)
				}
			}
		}
	}
}

// element is an element of a page.
type element struct {
	XMLName xml.Name
	Attrs   []xml.Attr `xml:",any,attr"`
	Text    string     `xml:",chardata"`
	Inner   []element  `xml:",any"`
}

func parseXML(t *testing.T, text string) (e element) {
	t.Helper()
	if err := xml.Unmarshal([]byte(text), &e); err != nil {
		t.Fatal(err)
	}
	return e
}

// all are the elements of a name below this one.
func (e *element) all(name string) (out []element) {
	for i := range e.Inner {
		if e.Inner[i].XMLName.Local == name {
			out = append(out, e.Inner[i])
		}
		out = append(out, e.Inner[i].all(name)...)
	}
	return out
}

func (e *element) attr(name string) string {
	for _, a := range e.Attrs {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// The plate's rim is elements 2 to 9: with every setting fewer of them hold it, and once they are all cut nothing says that any does.
func TestSheetSaysWhatHolds(t *testing.T) {
	x, s := plateSheet(t, geom.Millimetre, onHead, nil)
	rim, cut := map[int]bool{}, map[int]bool{}
	for n := 2; n <= 9; n++ {
		rim[n] = true
	}
	said := 0
	for i := range s.Sections {
		c := &s.Sections[i]
		for _, a := range c.Arcs {
			cut[a.N] = true
		}
		for _, l := range c.Lines {
			cut[l.N] = true
		}
		var left []int
		begun := false
		for n := 2; n <= 9; n++ {
			if begun = begun || cut[n]; !cut[n] {
				left = append(left, n)
			}
		}
		want := ""
		if begun && len(left) > 0 {
			want = "still held by elements " + record.Numbers(left)
			said++
		}
		if got := strings.Join(c.Holds, " "); !strings.HasSuffix(got, want) || (want == "") != (got == "") {
			t.Errorf("%s: %q, want %q", c.Name(), got, want)
		}
		if want != "" && !strings.Contains(s.Text(), want) {
			t.Errorf("%s: %q is not on the sheet", c.Name(), want)
		}
	}
	if said < 2 || len(x.Order) == 0 {
		t.Errorf("%d settings say what holds the part, want two at least", said)
	}
}

// The sheet's setting is the plan's setting: the first that is cut has number 1, and one that is come back to says so.
func TestSheetNumbersSettingsAsThePlanDoes(t *testing.T) {
	x, s := plateSheet(t, geom.Millimetre, onHead, nil)
	next := 1
	for i := range s.Sections {
		c := &s.Sections[i]
		if c.N == 0 {
			continue
		}
		if c.N != next || c.Again || !strings.HasPrefix(c.Name(), fmt.Sprintf("setting %d: ", next)) {
			t.Errorf("section %d is %q, want setting %d", i, c.Name(), next)
		}
		for _, a := range c.Arcs {
			if got := x.Arc(a.N).Group; got != c.N {
				t.Errorf("arc %d stands in setting %d, and the plan says %d", a.N, c.N, got)
			}
		}
		next++
	}
	if next != len(x.Groups)+1 {
		t.Errorf("%d settings on the sheet, %d in the plan", next-1, len(x.Groups))
	}
	x.Steps[0].Sets = true
	x.Steps[len(x.Steps)-1] = x.Steps[0]
	s = report.NewSheet(x)
	if last := &s.Sections[len(s.Sections)-1]; !strings.HasPrefix(last.Name(), "setting 1, again: ") || last.Words()[0] != report.SheetAgain {
		t.Errorf("%q, %q, want setting 1 again", last.Name(), last.Words())
	}
}
