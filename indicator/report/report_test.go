package report_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"golang.org/x/net/html"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/report"
	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
)

func same(u geom.Unit) geom.Unit { return u }

func records(t testing.TB, name string) []session.Record { return testdata.Records(t, name) }

var journals = []string{"v1-practice-7.jsonl", "v1-misread.jsonl", "v1-parked.jsonl", "v1-every-kind.jsonl", "v1-turned.jsonl",
	"v1-cable.jsonl"}

func page(t testing.TB, r *report.Report) string {
	t.Helper()
	var b bytes.Buffer
	if err := r.HTML(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// golden holds a text to a file that a person has looked at.
func golden(t *testing.T, name, got string) {
	t.Helper()
	testdata.WantGolden(t, filepath.Join("testdata", name), got)
}

func TestGoldenReport(t *testing.T) {
	r := report.New("v1-practice-7.jsonl", records(t, "v1-practice-7.jsonl"), same)
	golden(t, "practice-7.html.golden", page(t, &r))
	r = report.New("v1-misread.jsonl", records(t, "v1-misread.jsonl"), same)
	golden(t, "misread.txt.golden", r.Text())
	var b bytes.Buffer
	if err := r.CSV(&b); err != nil {
		t.Fatal(err)
	}
	golden(t, "misread.csv.golden", b.String())
}

// words is what a reader of a page sees, blanks joined.
func words(n *html.Node) string {
	if n.Type == html.TextNode {
		return n.Data + " "
	}
	out := ""
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		if n.Data != "style" && n.Data != "title" {
			out += words(c)
		}
	}
	return strings.Join(strings.Fields(out), " ") + " "
}

// parse reads a page, and holds it to need nothing from outside: no script, no address.
func parse(t *testing.T, text string) *html.Node {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	for n := range doc.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		switch n.Data {
		case "script", "link", "img", "iframe", "object", "embed", "a", "form", "b", "i":
			t.Errorf("the page has an element %s", n.Data)
		}
		for _, a := range n.Attr {
			if strings.HasPrefix(a.Key, "on") || a.Key == "src" || a.Key == "href" || strings.Contains(a.Val, "://") {
				t.Errorf("%s has %s=%q", n.Data, a.Key, a.Val)
			}
		}
	}
	return doc
}

// Every figure that a replay says when a setting has settled and is accepted stands in the report, in
// all its forms, with its uncertainty: the lines say them in their own code.
func TestReportHoldsTheAcceptedFigures(t *testing.T) {
	figure := regexp.MustCompile(`-?[0-9.]+ ±[0-9.]+ (mm|in)`)
	for _, name := range journals {
		for _, u := range []geom.Unit{geom.Millimetre, geom.Inch} {
			all := records(t, name)
			r := report.New(name, all, func(geom.Unit) geom.Unit { return u })
			seen, plain := words(parse(t, page(t, &r))), r.Text()
			var s session.State
			settled, accepted := "", 0
			for _, e := range all {
				before := s
				s = s.Apply(e.Event)
				for _, l := range lines.Of(session.Step{Before: before, Event: e.Event, After: s}, u) {
					switch l := l.(type) {
					case lines.SettledLine:
						settled = l.Text()
					case lines.AcceptedLine:
						accepted++
						for _, want := range append(figure.FindAllString(settled, -1), l.Text()) {
							if !strings.Contains(seen, want) || !strings.Contains(plain, want) {
								t.Errorf("%s: %q is not in the report", name, want)
							}
						}
						if n := len(figure.FindAllString(settled, -1)); n != 3 {
							t.Errorf("%s: %d figures in %q, want swing, x and y", name, n, settled)
						}
					}
				}
			}
			if accepted == 0 {
				t.Errorf("%s: nothing accepted", name)
			}
		}
	}
}

// A note can hold anything that a journal can: it is shown, and does nothing.
func TestReportEscapes(t *testing.T) {
	all := records(t, "v1-practice-7.jsonl")
	o, ok := all[0].Event.(session.Opened)
	if !ok {
		t.Fatal("no opening")
	}
	o.Machine.Name, o.By = `mill "7" <img src=x onerror=alert(1)>`, "<b>"
	all[0].Event = o
	evil := "<script>alert('x')</script>\x1b[31m\x07\u202e</svg><i>&amp;"
	all = append(all, session.Record{V: 1, N: len(all) + 1, T: time.Unix(0, 0), Event: session.Noted{Text: evil}})
	all = append(all, session.Record{V: 1, N: len(all) + 1, T: time.Unix(0, 0), Event: session.Noted{Text: "=HYPERLINK(\"http://x\")"}})
	r := report.New("<script>.jsonl", all, same)
	text := page(t, &r)
	seen := words(parse(t, text))
	for _, want := range []string{"<script>alert('x')</script>\ufffd[31m\ufffd\ufffd</svg><i>&amp;",
		`mill "7" <img src=x onerror=alert(1)>`, "journal <script>.jsonl"} {
		if !strings.Contains(seen, want) {
			t.Errorf("%q is not shown", want)
		}
	}
	for _, c := range text {
		if c < ' ' && c != '\n' || c >= 0x7f && c < 0xa0 || c == '\u202e' {
			t.Errorf("the page holds %q", c)
		}
	}
	var b bytes.Buffer
	if err := r.CSV(&b); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if got := rows[len(rows)-1][11]; got != `'=HYPERLINK("http://x")` {
		t.Errorf("a formula is written as %q", got)
	}
	for _, row := range rows[1:] {
		for i, cell := range row {
			if _, err := strconv.ParseFloat(cell, 64); err != nil && cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
				t.Errorf("column %s: %q begins like a formula", rows[0][i], cell)
			}
		}
	}
}

// The rows hold every reading of the journal with the value that it has, and say which of them stand: as
// many in the accepted sweep as the state has.
func TestRowsHoldEveryReading(t *testing.T) {
	for _, name := range journals {
		all := records(t, name)
		r := report.New(name, all, same)
		var b bytes.Buffer
		if err := r.CSV(&b); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&b).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		byEvent, standing := map[string][]string{}, map[string]int{}
		for _, row := range rows[1:] {
			byEvent[row[1]] = row
			if row[3] == "reading" && row[12] == "yes" {
				standing[row[0]+"/"+row[4]]++
			}
		}
		var s session.State
		setting := 0
		for _, e := range all {
			s = s.Apply(e.Event)
			switch x := e.Event.(type) {
			case session.Opened:
				setting++
			case session.Took:
				row := byEvent[strconv.Itoa(e.N)]
				if v, err := strconv.ParseFloat(row[8], 64); err != nil || math.Abs(v-x.Reading) > 1e-9 {
					t.Errorf("%s: event %d is %q, want %v", name, e.N, row, x.Reading)
				}
			case session.Accepted:
				// A sweep begun anew in the same trial leaves its readings in the rows: they were never
				// taken back.
				if got := standing[strconv.Itoa(setting)+"/"+strconv.Itoa(s.Trial)]; got < s.Sweep.Readings() {
					t.Errorf("%s: %d readings stand in trial %d, want at least %d", name, got, s.Trial, s.Sweep.Readings())
				}
			}
		}
	}
}

// A row's time is UTC, whatever the clock's zone was, and a text that a spreadsheet would take for a formula has an apostrophe in front.
func TestRowsForASpreadsheet(t *testing.T) {
	all := slices.Clone(records(t, "v1-misread.jsonl"))
	zone := time.FixedZone("", 2*60*60)
	for i := range all {
		all[i].T = all[i].T.In(zone)
	}
	notes := []string{"=1+1", "+1", "-1", "@SUM(A1)", "a@b", "1 = 1"}
	for _, n := range notes {
		last := all[len(all)-1]
		all = append(all, session.Record{N: last.N + 1, T: last.T, Event: session.Noted{Text: n}})
	}
	var b bytes.Buffer
	r := report.New("x", all, same)
	if err := r.CSV(&b); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var texts []string
	for _, row := range rows[1:] {
		n, err := strconv.Atoi(row[1])
		if err != nil {
			t.Fatal(err)
		}
		if want := all[n-1].T.UTC().Format("2006-01-02T15:04:05Z"); row[2] != want {
			t.Errorf("event %d at %s, want %s", n, row[2], want)
		}
		if row[3] == "note" {
			texts = append(texts, row[11])
		}
	}
	if got, want := texts[max(0, len(texts)-len(notes)):], []string{"'=1+1", "'+1", "'-1", "'@SUM(A1)", "a@b", "1 = 1"}; !slices.Equal(
		got,
		want,
	) {
		t.Errorf("notes %q, want %q", got, want)
	}
}

// Of a machine's history every row leads back: the event it names is in the journal, and after it the
// slide has taught just what the row says.
func TestHistoryLeadsBack(t *testing.T) {
	var all []report.Journal
	for _, name := range journals {
		all = append(all, report.Journal{Name: name, Events: records(t, name)})
	}
	h := report.HistoryOf("", all, geom.Millimetre)
	rows, locks := 0, 0
	for _, sl := range h.Slides {
		for _, row := range sl.Rows {
			rows++
			var s session.State
			for _, e := range records(t, row.Journal)[:row.Event] {
				s = s.Apply(e.Event)
			}
			b, ok := s.Lesson(sl.Slide)
			if !ok || s.Trial != row.Trial {
				t.Fatalf("%s, %s event %d: no lesson in trial %d", sl.Slide, row.Journal, row.Event, row.Trial)
			}
			if len(b.Locks) > 0 && row.Lock != record.Measured(geom.Millimetre, b.LockShift().Mean) {
				t.Errorf("%s, %s event %d: lock %s, want %s", sl.Slide, row.Journal, row.Event, row.Lock, record.Measured(geom.Millimetre,
					b.LockShift().Mean))
			}
			// What it says is new is the last of what had been taught by then.
			newest := func(word string, of float64) {
				_, after, told := strings.Cut(row.Seen, word+" ")
				said, _, _ := strings.Cut(after, " ")
				if v, err := strconv.ParseFloat(strings.Replace(said, "−", "-", 1), 64); told &&
					(err != nil || math.Abs(v-of) > 0.0005+1e-9) {
					t.Errorf("%s, %s event %d: %q, want %s %.3f", sl.Slide, row.Journal, row.Event, row.Seen, word, of)
				}
			}
			if n := len(b.Locks); n > 0 {
				newest("lock", b.Locks[n-1].Moved)
				locks = max(locks, n)
			}
			if n := len(b.Radii); n > 0 {
				newest("radius", b.Radii[n-1].R)
			}
			if n := len(b.Travels); n > 0 {
				newest("travel", b.Travels[n-1].Moved)
			}
			if len(b.Locks) == 0 && row.Lock != "–" {
				t.Errorf("%s: lock %s of nothing", sl.Slide, row.Lock)
			}
		}
	}
	if rows < 10 || locks < 2 {
		t.Errorf("%d rows and %d locks of one slide, need at least 10 and 2", rows, locks)
	}
	var b bytes.Buffer
	if err := h.HTML(&b); err != nil {
		t.Fatal(err)
	}
	parse(t, b.String())
	golden(t, "history.txt.golden", h.Text())
	if got := report.HistoryOf("another mill", all, geom.Millimetre); len(got.Slides) != 0 ||
		!strings.Contains(got.Text(), "nothing learnt yet") {
		t.Errorf("another machine: %s", got.Text())
	}
}

// The picture's scale is what it says: the length of the bar and the departure of a mark are to one
// scale, worked out here from the drawing alone.
func TestPolarScale(t *testing.T) {
	r := report.New("", records(t, "v1-practice-7.jsonl"), same)
	w := &r.Settings[0].Sweeps[0]
	pic := string(w.Polar())
	bar := regexp.MustCompile(`class="scale" x1="8" y1="[0-9.]+" x2="([0-9.]+)"`).FindStringSubmatch(pic)
	said := regexp.MustCompile(`residuals ×([0-9e+.]+); bar ([0-9.]+) mm`).FindStringSubmatch(pic)
	marks := regexp.MustCompile(`class="mark" cx="([0-9.]+)" cy="([0-9.]+)"`).FindAllStringSubmatch(pic, -1)
	if bar == nil || said == nil || len(marks) != 6 {
		t.Fatalf("bar %q, %q, %d marks", bar, said, len(marks))
	}
	f := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	perMM := (f(bar[1]) - 8) / f(said[2])
	for i, m := range marks {
		// In a bore a reading that is too large says that the wall is nearer the axis.
		out := math.Hypot(f(m[1])-120, f(m[2])-120) - 78
		if want := -w.Found.Residual(w.Bearings[i], w.Readings[i]) * perMM; math.Abs(out-want) > 0.3 {
			t.Errorf("station %d is drawn %.2f out, want %.2f", i+1, out, want)
		}
	}
	// The circle of radius 30 is drawn 78 long.
	if got := perMM / (78 / 30.0); math.Abs(got-f(said[1])) > 0.02*got {
		t.Errorf("×%v is said, the drawing has ×%.0f", said[1], got)
	}
}

// Every reason for which a sweep closes has its words, and no two the same.
func TestWhySaysEveryReason(t *testing.T) {
	said := map[string]session.Why{}
	for _, why := range []session.Why{session.ByVerdict, session.ByWind, session.ByLimit, session.ByPerson, session.ByTilt} {
		var w report.Sweep
		w.State.Sweep.Closed = why
		words := w.Why()
		if other, twice := said[words]; words == "" || twice {
			t.Errorf("closed by %s: %q, as by %q", why, words, other)
		}
		said[words] = why
	}
}

// What is taken back stands no more: a wind is not done, as if nobody had confirmed it, and a reading that another had replaced stands
// again once that is taken back.
func TestTakenBackIsNotDone(t *testing.T) {
	first := func(name string, is func(session.Event) bool) (done, back *report.Setting, n int) {
		all := records(t, name)
		n = 1 + slices.IndexFunc(all, func(r session.Record) bool { return is(r.Event) })
		undone := append(slices.Clip(all[:n]), session.Record{N: n + 1, T: all[n-1].T, Event: session.Undone{}})
		a, b := report.New("", all[:n], same), report.New("", undone, same)
		return &a.Settings[0], &b.Settings[0], n
	}
	done, back, n := first("v1-parked.jsonl", func(e session.Event) bool { _, is := e.(session.Wound); return is })
	was, is := done.Sweeps[len(done.Sweeps)-1].Winds[0], back.Sweeps[len(back.Sweeps)-1].Winds[0]
	if was.Event != n || was.Reading == nil || is.Event != 0 || is.Reading != nil || is.Told != was.Told {
		t.Errorf("a wind done as event %d and taken back: %+v, want event 0 and no reading, told as before: %+v", n, is, was)
	}
	done, back, n = first("v1-misread.jsonl", func(e session.Event) bool { r, is := e.(session.Took); return is && r.Again > 0 })
	again := done.Entries[len(done.Entries)-1].Number
	at := slices.IndexFunc(done.Entries, func(e report.Entry) bool { return e.Number == again })
	if done.Entries[at].Stands || !back.Entries[at].Stands || back.Entries[len(back.Entries)-1].Stands {
		t.Errorf("station %d, read anew as event %d: its first reading stands %v; that taken back %v, and the new one %v; want false, true, "+
			"false", again, n, done.Entries[at].Stands, back.Entries[at].Stands, back.Entries[len(back.Entries)-1].Stands)
	}
}

// A part that was only counted leans on the one that was swept and accepted last, which is named: of five parts the last two.
func TestCountedPartNamesWhatItLeansOn(t *testing.T) {
	all := records(t, "v1-parts.jsonl")
	accepted, counted := 0, 0
	for i, r := range all {
		switch e := r.Event.(type) {
		case session.Parted:
			counted = 0
			if !e.Sweep {
				counted = e.Part
			}
		case session.Accepted:
			x := report.New("", all[:i+1], same)
			accepted = x.Settings[len(x.Settings)-1].State.Part
		}
		if counted == 0 {
			continue
		}
		x := report.New("", all[:i+1], same)
		want := fmt.Sprintf("part %d: not swept, behind part %d that was accepted", counted, accepted)
		if got := x.Settings[len(x.Settings)-1].Outcome()[0].Value; got != want {
			t.Errorf("event %d: %q, want %q", i+1, got, want)
		}
	}
	if counted != 5 || accepted != 3 {
		t.Errorf("ends at part %d, counted behind part %d; want 5 behind 3", counted, accepted)
	}
}

// A bearing in a row is one of a full turn, wherever it was counted from: a quarter turn back is 270°.
func TestRowsTellBearingsOfATurn(t *testing.T) {
	all := records(t, "v1-misread.jsonl")
	n := slices.IndexFunc(all, func(r session.Record) bool { _, is := r.Event.(session.Took); return is })
	took := all[n].Event.(session.Took)
	for at, want := range map[float64]string{-90: "270", 0: "0", 180: "180", 359: "359", 450: "90"} {
		took.Bearing = geom.FromDegrees(at)
		var b bytes.Buffer
		r := report.New("", append(slices.Clone(all[:n]), session.Record{N: n + 1, T: all[n].T, Event: took}), same)
		if err := r.CSV(&b); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&b).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		if got := rows[len(rows)-1]; got[3] != "reading" || got[7] != want {
			t.Errorf("a reading at %v°: %q, want bearing %s", at, got, want)
		}
	}
}

// The needle is wound to the goal, and what it shows is read once the slide is locked: a lock that is known to shift the slide by 0.02,
// by which the needle goes half as far, makes 0.11 of a goal of 0.1, which is what stands beside the reading.
func TestReportsGoalIsBehindTheLock(t *testing.T) {
	r := report.New("", records(t, "v1-parked.jsonl"), same)
	shown := 0.112
	w := report.Wind{Event: 1, Reading: &shown, What: session.Told{Park: &advice.Park{Goal: 0.1, Shift: 0.02, Act: 0.5}}}
	if got := r.Settings[0].Did(w); !strings.HasSuffix(got, "goal 0.11") && !strings.HasSuffix(got, "goal 0.110") {
		t.Errorf("%q, want a goal of 0.11", got)
	}
}

// A reading that was put as it was proposed says so, and a place between the winds that was left out holds no reading, whether the
// needle was off the dial there or not.
func TestRowsSayWhatWasProposedAndWhatWasLeftOut(t *testing.T) {
	last := func(all []session.Record, n int, e session.Event) report.Entry {
		r := report.New("", append(slices.Clone(all[:n]), session.Record{N: n + 1, T: all[n-1].T, Event: e}), same)
		entries := r.Settings[len(r.Settings)-1].Entries
		return entries[len(entries)-1]
	}
	all := records(t, "v1-misread.jsonl")
	n := slices.IndexFunc(all, func(r session.Record) bool { e, is := r.Event.(session.Took); return is && e.Again > 0 })
	again := all[n].Event.(session.Took)
	for _, corrected := range []bool{true, false} {
		again.Corrected = corrected
		if got := last(all, n, again); strings.Contains(got.Text, "as proposed") != corrected || got.Number != again.Again {
			t.Errorf("corrected %v: %+v", corrected, got)
		}
	}
	all = records(t, "v1-parked.jsonl")
	n = 1 + slices.IndexFunc(all, func(r session.Record) bool { _, is := r.Event.(session.Wound); return is })
	for _, e := range []session.Looked{{Skipped: true}, {Skipped: true, Off: session.Free}, {Reading: 0.12}} {
		e.Bearing = geom.FromDegrees(90)
		if got := last(all, n, e); got.Kind != "look" || got.Value.Known() == e.Skipped || !e.Skipped && got.Value.V != 0.12 {
			t.Errorf("%+v: %+v", e, got)
		}
	}
}
