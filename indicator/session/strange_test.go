package session_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/report"
	"example.org/trammel/indicator/session"
)

// leaf is one value of an event in a journal of old: where it stands, what it was, and how to put another in its place.
type leaf struct {
	at  string
	was any
	put func(any)
}

// leavesOf are the values of an object, deep down.
func leavesOf(at string, v any, put func(any)) (out []leaf) {
	switch v := v.(type) {
	case []any:
		for i := range v {
			out = append(out, leavesOf(at+"[]", v[i], func(x any) { v[i] = x })...)
		}
	case map[string]any:
		for _, k := range slices.Sorted(maps.Keys(v)) {
			out = append(out, leavesOf(at+"."+k, v[k], func(x any) { v[k] = x })...)
		}
	default:
		out = append(out, leaf{at, v, put})
	}
	return out
}

// impossible are the values that no event may have in the place of a number, a text or a word that is true or false; odd those that
// it may have or not, so long as nothing senseless is said of it.
var (
	impossible = map[string][]any{
		"number": {json.Number("1e13"), json.Number("-1e13"), json.Number("1e400"), "NaN", true, []any{}},
		"text":   {json.Number("3"), false, []any{}},
		"truth":  {json.Number("1"), "true", []any{}},
	}
	odd = map[string][]any{
		"number": {json.Number("1e12"), json.Number("-1e12"), json.Number("1e9"), json.Number("-1"), json.Number("0"),
			json.Number("-1e-300"), json.Number("0.5"), json.Number("99"), nil},
		"text":  {"", "no such", "\x1b[2J", strings.Repeat("x", 1000), nil},
		"truth": {true, false, nil},
	}
)

// sortOf is which of the three a value is.
func sortOf(v any) string {
	switch v.(type) {
	case string:
		return "text"
	case bool:
		return "truth"
	}
	return "number"
}

// senseless is what nothing that is said may hold: no number, a number without end, a hand that winds less than nothing, a format that
// lacks its value. (A scale that stands below its zero is read in turns below 0.)
var senseless = regexp.MustCompile(`NaN|\bInf|\+Inf|wise -[0-9]|-[0-9]{9,} turns|%!`)

// Whatever stands in an event in the place of what stood there is refused with the line's number, or nothing senseless is said of it,
// then and later: each field of each kind of event, at its first place in the journals of old. TRAMMEL_TRAPS has all values at three
// places; else each field is tried with one that no event may have, and some by turns.
func TestStrangeValues(t *testing.T) {
	places := 1
	if os.Getenv("TRAMMEL_TRAPS") != "" {
		places = 3
	}
	seen := map[string]int{}
	for _, f := range frozen(t) {
		all := goldenLines(t, f)
		var before readOn
		for i, line := range all {
			var e map[string]any
			d := json.NewDecoder(strings.NewReader(line))
			d.UseNumber()
			if err := d.Decode(&e); err != nil {
				t.Fatal(err)
			}
			kind := fmt.Sprint(e["k"])
			for _, l := range leavesOf(kind, e["d"], nil) {
				if seen[l.at]++; seen[l.at] > places {
					continue
				}
				sort := sortOf(l.was)
				for n, v := range slices.Concat(impossible[sort], odd[sort]) {
					if must := n < len(impossible[sort]); places > 1 || (n+len(seen))%6 == 0 {
						l.put(v)
						b, err := json.Marshal(e)
						if err != nil {
							t.Fatal(err)
						}
						before.strange(t, fmt.Sprintf("%s:%d: %s is %.20v", f, i+1, l.at, v), string(b), all[i+1:], must)
					}
				}
				l.put(l.was)
			}
			before.next(t, line)
		}
	}
	for _, r := range session.Events() { // a kind without a field says nothing that could be spoilt
		if has := slices.ContainsFunc(slices.Collect(maps.Keys(seen)),
			func(at string) bool { return strings.HasPrefix(at, r.Kind+".") }); !has &&
			!slices.Contains(bare, r.Kind) {
			t.Errorf("no journal of old holds a value of %s", r.Kind)
		}
	}
}

// bare are the kinds without a field.
var bare = []string{"evened", "paired", "released", "passed over", "undone", "again", "resweep", "stayed"}

// behindStrange is how many lines behind a strange one are read on.
const behindStrange = 6

// readOn is a journal as far as it was read.
type readOn struct {
	reading session.Reading
	recs    []session.Record
	state   session.State
}

// next reads a line that is good.
func (w *readOn) next(t *testing.T, line string) {
	t.Helper()
	rec, err := w.reading.Next([]byte(line))
	if err != nil {
		t.Fatal(err)
	}
	w.recs, w.state = append(w.recs, rec), w.state.Apply(rec.Event)
}

// strange reads a strange line, and some behind it, and holds it to be refused where it stands, where it must, or to say nothing senseless.
func (w readOn) strange(t *testing.T, what, line string, behind []string, must bool) {
	t.Helper()
	n := len(w.recs)
	recs := slices.Clip(w.recs)
	for _, l := range slices.Concat([]string{line}, behind[:min(len(behind), behindStrange)]) {
		rec, err := w.reading.Next([]byte(l))
		if err == nil {
			recs = append(recs, rec)
			continue
		}
		var at *session.LineError
		if !errors.As(err, &at) || at.Number != len(recs)+1 || strings.ContainsFunc(err.Error(),
			func(r rune) bool { return !geom.Prints(r) }) {
			t.Errorf("%s: refused as %q", what, err)
		}
		break
	}
	if len(recs) == n {
		return
	}
	if must {
		t.Errorf("%s, and it is read", what)
	}
	said := w.saying(t, what, recs[n:])
	rep := report.New("strange", recs, func(u geom.Unit) geom.Unit { return u })
	said += rep.Text()
	if bad := senseless.FindStringIndex(said); bad != nil {
		t.Errorf("%s, and it says %q", what, said[max(0, bad[0]-70):min(len(said), bad[1]+30)])
	}
}

// saying is all that is said of further events, and of what is due behind them.
func (w readOn) saying(t *testing.T, what string, recs []session.Record) string {
	t.Helper()
	var said strings.Builder
	tell := func(st session.Step) {
		for _, l := range lines.Of(st, geom.Millimetre) {
			if _, err := json.Marshal(l); err != nil {
				t.Errorf("%s: %v", what, err)
			}
			fmt.Fprintln(&said, l.Text())
		}
	}
	s := w.state
	for _, rec := range recs {
		before := s
		s = s.Apply(rec.Event)
		tell(session.Step{Before: before, Event: rec.Event, After: s})
	}
	steps, err := session.NewLive(s, &session.Memory{}).Settle(begin)
	if err != nil {
		t.Errorf("%s: %v", what, err)
	}
	for _, st := range steps {
		tell(st)
	}
	return said.String()
}
