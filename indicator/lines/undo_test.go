package lines_test

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// What undo would take back is named with its place and its figure, as they stand in the journal's own line (and, for a
// wind's travel, in the line that tells it), in the unit that is asked for.
func TestUndoNamesWhatItTakesBack(t *testing.T) {
	for _, c := range []struct {
		journal string
		event   int // behind which undo is asked for
		u       geom.Unit
		want    string
	}{
		{"v1-by-steps.jsonl", 2, geom.Millimetre, "step 1, rough in"},
		{"v1-by-steps.jsonl", 5, geom.Millimetre, "step 2, lock spindle, left out"},
		{"v1-by-steps.jsonl", 12, geom.Millimetre, "step 3, rock"},
		{"v1-by-steps.jsonl", 13, geom.Millimetre, "step 4, lock height"}, // the last of its list
		{"v1-by-steps.jsonl", 14, geom.Millimetre, "the backlash of X taken up"},
		{"v1-by-steps.jsonl", 17, geom.Millimetre, "station 1, -0.350 mm"},
		{"v1-by-steps.jsonl", 17, geom.Inch, "station 1, -0.013780 in"},
		{"v1-by-steps.jsonl", 18, geom.Millimetre, "station 2, left out"},
		{"v1-by-steps.jsonl", 30, geom.Millimetre, "the second sweep, height +30.000 mm"},
		{"v1-by-steps.jsonl", 56, geom.Millimetre, "the accepted setting"},
		{"v1-parked.jsonl", 24, geom.Inch, "the held radius, 1.6614 in"},
		{"v1-parked.jsonl", 26, geom.Millimetre, "where X stands, 23.415 mm"},
		{"v1-parked.jsonl", 39, geom.Millimetre, "the new setting of the dial, -0.200 to 0.000 mm"},
		{"v1-misread.jsonl", 12, geom.Millimetre, "the word that station 3 stands, -0.488 mm"},
		{"v1-restated.jsonl", 30, geom.Millimetre, "what was put right, slide.y.clockwise"},
		{"v2-next-station.jsonl", 12, geom.Millimetre, "the number -0.273 mm"},
	} {
		st := replay(t, c.journal)[c.event-1]
		if got := lines.UndoWords(&st.After, c.u); got != c.want {
			t.Errorf("%s, behind event %d: %q, want %q", c.journal, c.event, got, c.want)
		}
		back := session.Step{Before: st.After, Event: session.Undone{}, After: st.After.Apply(session.Undone{})}
		want := "taken back: " + c.want
		if strings.HasPrefix(c.want, "step ") && !strings.HasSuffix(c.want, "left out") {
			want += "; only the record goes back: what the hand has done stays done"
		}
		if got, signed := lines.Status(back, c.u); got != want || !signed {
			t.Errorf("%s, behind event %d: the status row says %q (signed %v), want %q", c.journal, c.event, got,
				signed, want)
		}
	}
}

// bareUndo are the entries that have neither place nor figure of their own.
var bareUndo = []string{"note", "again", "swept", "accepted", "evened", "released", "paired", "passed over", "back", "suspected", "closing",
	"bumped", "stayed"}

// Every entry of the golden journals is named, and a wind with the travel that it was told with.
func TestEveryEntryIsNamedBehindUndo(t *testing.T) {
	files, err := filepath.Glob("../../testdata/journal/*.jsonl")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	named := map[string]int{}
	for _, f := range files {
		for i, st := range replay(t, filepath.Base(f)) {
			kind := session.Kind(st.Event)
			if !session.IsEntry(st.Event) {
				continue
			}
			got := lines.UndoWords(&st.After, geom.Millimetre)
			if named[kind]++; got == "" || (got == session.UndoWords(st.Event)) != slices.Contains(bareUndo, kind) {
				t.Errorf("%s, event %d, %s: undo takes back %q", f, i+1, kind, got)
			}
			if w, ok := st.Event.(session.Wound); ok {
				travel := geom.FormatSigned(st.Before.Told.Wind.Travel, 3) + " mm"
				if !strings.HasSuffix(got, "the wind of "+lines.SlideName(w.Slide)+", "+travel) {
					t.Errorf("%s, event %d: %q, want the wind of %s by %s", f, i+1, got, w.Slide, travel)
				}
			}
		}
	}
	if len(named) < 24 || named["wound"] < 20 {
		t.Errorf("%d kinds of entry are named, %d winds; want 24 and 20 to have looked at enough", len(named), named["wound"])
	}
	var none session.State
	if got := lines.UndoWords(&none, geom.Millimetre); got != "" {
		t.Errorf("nothing is taken back, and called %q", got)
	}
}

// A wind that is taken back stays wound. By the collar nothing shows that, so that whoever follows what is told again winds twice: it
// is said, of every such wind of the golden journals. Under the needle the needle shows it, and nothing is said.
func TestUndoneWindSaysThatTheSlideStays(t *testing.T) {
	files, err := filepath.Glob("../../testdata/journal/*.jsonl")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	const stays = "only the record goes back, the slide stays as wound: confirm again, do not wind again"
	seen := map[bool]int{}
	for _, f := range files {
		for i, st := range replay(t, filepath.Base(f)) {
			w, ok := st.Event.(session.Wound)
			if !ok {
				continue
			}
			collar := st.Before.Told.Park == nil && !st.Before.SetUp().Under().Pair // by points a readout shows where it stands
			seen[collar]++
			back := session.Step{Before: st.After, Event: session.Undone{}, After: st.After.Apply(session.Undone{})}
			if got, _ := lines.Status(back, geom.Millimetre); strings.HasSuffix(got, stays) != collar {
				t.Errorf("%s, event %d: %s wound by the collar: %v, and taken back with %q", f, i+1, w.Slide, collar, got)
			}
		}
	}
	if seen[true] < 2 || seen[false] < 2 {
		t.Errorf("%d winds by the collar and %d under the needle, want two of each to have looked at enough", seen[true], seen[false])
	}
}

// What was confirmed and taken back is still wound. The very wind told again needs no hand; another wind of that slide finds it in the
// way; and what another slide has to do with it is nothing.
func TestTakenBackWindIsOfItsSlideAndTravel(t *testing.T) {
	o := bench(t, nil)
	told := func(slide string, travel float64) *session.Told {
		sl, _ := o.Machine.Slide(slide)
		return &session.Told{Step: 1, Of: 1, Wind: sl.Wind(travel)}
	}
	for _, c := range []struct {
		slide  string
		travel float64
		want   string
	}{
		{"x", 0.25, "already wound? confirm, turn nothing"},
		{"x", 0.5, "already wound +0.250 mm? wind that back first"},
		{"x", -0.25, "already wound +0.250 mm? wind that back first"},
		{"y", 0.25, ""},
	} {
		s := session.State{Set: &o, Phase: session.Winding}
		s.Told, s.TakenBack = told(c.slide, c.travel), told("x", 0.25)
		if got := strings.Join(lines.Rewound(&s, geom.Millimetre), " "); got != c.want {
			t.Errorf("x by 0.25 taken back, %s by %v told: %q, want %q", c.slide, c.travel, got, c.want)
		}
		if got := lines.RewoundWords(&s, geom.Millimetre); (got != "") != (c.want != "") || !strings.HasSuffix(got, c.want) {
			t.Errorf("x by 0.25 taken back, %s by %v told: %q, want it to end in %q", c.slide, c.travel, got, c.want)
		}
	}
}
