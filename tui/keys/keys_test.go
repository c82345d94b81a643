package keys

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/indicator/session"
)

// The keys of what a person enters, by what they are called.
const (
	Undo    Action = "undo"
	OffDial Action = "off dial"
	Skip    Action = "skip"
	Again   Action = "sweep again"
	Keep    Action = "keep"
	Correct Action = "correct"
	Even    Action = "take it out"
	Closing Action = "closing"
	Hold    Action = "hold radius"
	At      Action = "scale"
	Bezel   Action = "bezel"
	Signs   Action = "signs"
	Tilt    Action = "height"
	Accept  Action = "accept"
	Note    Action = "note"
	Enough  Action = "enough"
)

// situations are all that there can be.
func situations() []Situation {
	out := []Situation{{Now: session.Now{Waits: session.ForChore, Behind: true, Skippable: true}},
		{Now: session.Now{Waits: session.ForMoved, Behind: true, Looking: true}}}
	for w := session.ForNothing; w <= session.ForAgain; w++ {
		for bits := range 16 {
			s := Situation{Now: session.Now{Waits: w, Undo: bits&1 != 0}, Practice: bits&2 != 0, Page: bits&4 != 0, Lost: bits&8 != 0}
			out = append(out, s)
			if w == session.ForNothing {
				accepted := s
				accepted.Behind, accepted.Ended = true, true
				out = append(out, accepted)
			}
			if w == session.ForReading {
				needle := s
				needle.Needle = true
				out = append(out, needle)
			}
			s.NoForm = "2 stations, need at least 6"
			out = append(out, s)
			if s.Waits == session.ForChore {
				stops := s
				stops.Skippable, stops.Stops = true, true
				out = append(out, stops)
			}
			if s.Waits == session.ForWind {
				which := s
				which.Which = true
				out = append(out, which)
			}
			for doubt := range 4 {
				if s.Waits == session.ForReading {
					s.Doubt, s.Proposed, s.Typed = true, doubt&1 != 0, doubt&2 != 0
					out = append(out, s)
				}
			}
		}
	}
	return out
}

// No shortcut begins a number, or stands in one: a cable types readings.
func TestNoKeyBeginsANumber(t *testing.T) {
	for _, s := range situations() {
		for _, b := range For(s) {
			for _, k := range b.Keys() {
				if strings.ContainsAny(k[:1], "0123456789+-.,") || k == "−" {
					t.Errorf("%+v: %s begins a number", s, k)
				}
			}
		}
	}
}

// One key has one meaning in a situation, and one meaning is said once.
func TestNoTwoMeanings(t *testing.T) {
	for _, s := range situations() {
		keys, actions := map[string]Action{}, make(map[Action]bool)
		for _, b := range For(s) {
			if actions[b.Action] {
				t.Errorf("%+v: action %s twice", s, b.Action)
			}
			actions[b.Action] = true
			for _, k := range b.Keys() {
				if other, ok := keys[k]; ok {
					t.Errorf("%+v: %s is action %s and action %s", s, k, other, b.Action)
				}
				keys[k] = b.Action
				if got, ok := Find(For(s), k); !ok || got.Action != b.Action {
					t.Errorf("%+v: Find %s is %s, %v; want %s", s, k, got.Action, ok, b.Action)
				}
			}
		}
	}
	if _, ok := Find(For(Situation{}), "p"); ok {
		t.Error("Find knows p")
	}
}

// A key has the same meaning in every situation in which it has one.
func TestSameMeaningEverywhere(t *testing.T) {
	meaning := map[string]Action{}
	for _, s := range situations() {
		for _, b := range For(s) {
			for _, k := range b.Keys() {
				if was, ok := meaning[k]; ok && was != b.Action {
					t.Errorf("%+v: %s is action %s, elsewhere %s", s, k, b.Action, was)
				}
				meaning[k] = b.Action
			}
		}
	}
}

// No key is another name of Enter, Tab or Esc, which terminals cannot tell apart (ctrl+m, ctrl+i,
// ctrl+[), none is one that edits the entry, and none is a name that no terminal sends.
func TestKeysThatTerminalsSend(t *testing.T) {
	sent := map[string]bool{}
	for k := tea.KeyType(-200); k < 128; k++ {
		sent[k.String()] = true
	}
	taken := []string{"ctrl+m", "ctrl+i", "ctrl+[", "tab", "esc", "backspace", "ctrl+h", "delete", "home", "end", "pgup", "pgdown", " "}
	for _, s := range situations() {
		for _, b := range For(s) {
			for _, k := range b.Keys() {
				if slices.Contains(taken, k) {
					t.Errorf("%s is bound to %s", k, b.Help().Desc)
				}
				if !sent[k] && utf8.RuneCountInString(k) != 1 {
					t.Errorf("no terminal sends %q", k)
				}
			}
		}
	}
	// Line feed is what some terminals send for Enter: the two go together.
	for _, b := range For(Situation{}) {
		if slices.Contains(b.Keys(), "enter") != slices.Contains(b.Keys(), "ctrl+j") {
			t.Errorf("%s: keys %v, want both enter and ctrl+j or neither", b.Help().Desc, b.Keys())
		}
	}
}

// Every binding says what it does, and stands under the first of its keys; a reason begins with a
// small letter and does not end in a full stop.
func TestEveryKeyIsExplained(t *testing.T) {
	for _, s := range situations() {
		for _, b := range For(s) {
			if b.Action == "" || b.Help().Desc == "" || b.Help().Key == "" {
				t.Errorf("%+v: %v is action %s, help %+v", s, b.Keys(), b.Action, b.Help())
			}
			if label := strings.ToLower(b.Help().Key); label != b.Keys()[0] && label != strings.Replace(b.Keys()[0], "ctrl+", "^", 1) {
				t.Errorf("%v is called %q", b.Keys(), b.Help().Key)
			}
			if b.Why != "" && (b.Why != strings.ToLower(b.Why[:1])+b.Why[1:] || strings.HasSuffix(b.Why, ".")) {
				t.Errorf("%v: why %q", b.Keys(), b.Why)
			}
		}
	}
}

// can lists the actions that can act in a situation.
func can(s Situation) []Action {
	var out []Action
	for _, b := range For(s) {
		if b.Why == "" {
			out = append(out, b.Action)
		}
	}
	slices.Sort(out)
	return out
}

// Which keys can act, by hand from the order of the job.
func TestWhichKeysCanAct(t *testing.T) {
	look := []Action{List, Trials, Taught, Rings, Setup, Form, Help, Quit, Suspend}
	cases := []struct {
		name string
		s    Situation
		also []Action
	}{
		{"load", Situation{Now: session.Now{Waits: session.ForLoad}}, []Action{Enter, At, Bezel, Signs, Note}},
		{"reading", Situation{Now: session.Now{Waits: session.ForReading, Undo: true}}, []Action{Enter, Undo, OffDial, Skip, Enough, Again, Closing,
			Hold, At, Bezel, Signs, Note}},
		{"practice", Situation{Now: session.Now{Waits: session.ForReading, Undo: true}, Practice: true}, []Action{Enter, Undo, OffDial,
			Dial, Skip, Enough, Again, Closing, Hold, At, Bezel, Signs, Note, Swap}},
		{"a needle", Situation{Now: session.Now{Waits: session.ForReading, Undo: true}, Needle: true}, []Action{Enter, Undo, OffDial,
			Skip, Enough, Again, Closing, Hold, At, Bezel, Signs, Note, Swap}},
		{"doubt", Situation{Now: session.Now{Waits: session.ForReading, Undo: true, Doubt: true, Proposed: true}},
			[]Action{Enter, Correct, Keep, Skip, Enough, Undo, OffDial, Again, Hold, At, Bezel, Signs, Note}},
		{"doubt without a value", Situation{Now: session.Now{Waits: session.ForReading, Undo: true, Doubt: true}},
			[]Action{Enter, Keep, Skip, Enough, Undo, OffDial, Again, Hold, At, Bezel, Signs, Note}},
		{"wind", Situation{Now: session.Now{Waits: session.ForWind, Undo: true}, Practice: true}, []Action{Enter, Undo, Again, Hold,
			At, Bezel, Signs, Tilt, Note}},
		{"accept", Situation{Now: session.Now{Waits: session.ForAccept, Undo: true}}, []Action{Enter, Accept, Undo, Again, Hold, At, Bezel, Signs,
			Tilt, Note}},
		{"stuck", Situation{Now: session.Now{Waits: session.ForAgain, Undo: true}}, []Action{Undo, Again, Hold, At, Bezel, Signs, Note}},
		{"drift", Situation{Now: session.Now{Waits: session.ForDrift, Undo: true}}, []Action{Even, Keep, Undo, Again, Hold, At, Bezel,
			Signs, Note}},
		{"closed", Situation{}, []Action{Note}},
		{"a page", Situation{Page: true}, []Action{Enter, Note}},
		{"lost", Situation{Now: session.Now{Waits: session.ForReading, Undo: true}, Practice: true, Lost: true}, []Action{Retry}},
		{"lost, a page", Situation{Now: session.Now{Waits: session.ForWind}, Lost: true, Page: true}, []Action{Enter, Retry}},
	}
	for _, c := range cases {
		want := append(slices.Clone(look), c.also...)
		slices.Sort(want)
		if got := can(c.s); !slices.Equal(got, want) {
			t.Errorf("%s: actions %v, want %v", c.name, got, want)
		}
	}
	if slices.Contains(can(Situation{NoForm: "2 stations, need at least 6"}), Form) {
		t.Error("the form can be seen, and there is a reason why not")
	}
	// Whatever happens, one can leave.
	for _, s := range situations() {
		if !slices.Contains(can(s), Quit) {
			t.Errorf("%+v: q cannot leave", s)
		}
	}
}

// In the plan too one key has one meaning, the one that it has elsewhere, and one can leave: by the bar too, which takes back
// elsewhere, and leaves as on the pages of answers. No digit has one: it types the number
// of an element; and of what begins a number only the keypad's signs, for nobody reads a dial there.
func TestPlanKeys(t *testing.T) {
	elsewhere := map[string]Action{}
	for _, b := range For(Situation{Now: session.Now{Waits: session.ForReading}}) {
		for _, k := range b.Keys() {
			elsewhere[k] = b.Action
		}
	}
	for _, page := range []bool{false, true} {
		for _, why := range []string{"", "a straight is not set"} {
			seen := map[string]bool{}
			for _, b := range ForPlan(Planned{Page: page, Why: why, Turns: true, Names: true}) {
				for _, k := range b.Keys() {
					if was, ok := elsewhere[k]; ok && was != b.Action && (k != "/" || b.Action != Quit || page) {
						t.Errorf("%s is action %s, elsewhere %s", k, b.Action, was)
					}
					if seen[k] || strings.ContainsAny(k[:1], "0123456789.,") {
						t.Errorf("%s has two meanings, or is a digit", k)
					}
					seen[k] = true
				}
				can := b.Why == ""
				if want := b.Action == Quit || b.Action == Help || b.Action == Suspend || b.Action == List || (b.Action == Enter && (page || why == "")) ||
					(!page && (b.Action == Up || b.Action == Down || b.Action == TurnSide || b.Action == Cutters)); can != want {
					t.Errorf("page %v, why %q: action %s can act: %v, want %v", page, why, b.Action, can, want)
				}
			}
			want := 15
			if page {
				want = 14 // the bar closes it
			}
			if len(seen) != want {
				t.Errorf("%d keys, want %d", len(seen), want)
			}
		}
	}
}

// On the page that asks about open sessions one key has one meaning, none begins a number, and one can leave.
func TestOpenKeys(t *testing.T) {
	for _, typed := range []bool{false, true} {
		seen := map[string]Action{}
		for _, b := range ForMenu(Menu{Typed: typed, Takes: "go on with 1", Leaves: "leave"}) {
			for _, k := range b.Keys() {
				if was, twice := seen[k]; twice || strings.ContainsAny(k[:1], "0123456789+-.,") {
					t.Errorf("%s is %s and %s, or begins a number", k, was, b.Action)
				}
				seen[k] = b.Action
			}
		}
		if want := map[bool]Action{false: Quit, true: Clear}[typed]; seen["/"] != want || seen["q"] != Quit || seen["enter"] != Enter {
			t.Errorf("typed %v: the keys %v, want / to be %s", typed, seen, want)
		}
	}
}

// On pages of questions, and of numbered answers, one key has one meaning, none begins a number, a text that is typed keeps its letters,
// and one can leave.
func TestAskKeys(t *testing.T) {
	check := func(what string, all []Binding) map[string]Action {
		seen := map[string]Action{}
		for _, b := range all {
			for _, k := range b.Keys() {
				if was, twice := seen[k]; twice || strings.ContainsAny(k[:1], "0123456789+-.,") {
					t.Errorf("%s: %s is %s and %s, or begins a number", what, k, was, b.Action)
				}
				seen[k] = b.Action
			}
		}
		if seen["enter"] != Enter || seen["ctrl+c"] != Quit {
			t.Errorf("%s: the keys %v, want Enter to take and ^C to leave", what, seen)
		}
		return seen
	}
	for _, c := range []struct {
		a   Asked
		bar Action
	}{
		{Asked{}, Quit}, {Asked{Begun: true}, Before}, {Asked{Typed: true}, Clear}, {Asked{Typed: true, Begun: true, Part: true}, Clear},
		{Asked{Part: true}, Before}, {Asked{Begun: true, More: true}, Before}, {Asked{Begun: true, Once: true}, Clear},
		{Asked{Text: true, Begun: true}, Before}, {Asked{Text: true, Typed: true}, Clear},
		{Asked{Text: true, Path: true, Begun: true}, ""}, {Asked{Text: true, Path: true, Typed: true}, ""},
		{Asked{Text: true, Path: true, Begun: true, Once: true}, Clear},
	} {
		seen := check(fmt.Sprintf("%+v", c.a), ForAsk(c.a))
		if seen["/"] != c.bar || seen["*"] != List || (seen["q"] == Quit) == c.a.Text {
			t.Errorf("%+v: the keys %v, want / to be %s, and q a letter of a text", c.a, seen, c.bar)
		}
	}
	check("the list", ForAskPage(true, true))
	check("the explanation", ForAskPage(false, false))
	check("the explanation, with other pages", ForAskPage(false, true))
	for _, g := range []Gauged{{}, {Gone: true}, {Once: true}, {List: true}} {
		seen := check(fmt.Sprintf("%+v", g), ForGauge(g))
		if bar := map[bool]Action{true: Quit, false: seen["*"]}[g == Gauged{} || g.Gone]; seen["/"] != bar {
			t.Errorf("%+v: the keys %v, want / to be %s", g, seen, bar)
		}
	}
	if seen := check("a name", ForMenu(Menu{Typed: true, Name: true})); seen["/"] != "" || seen["q"] != "" {
		t.Errorf("a name: the keys %v, want / and q to belong to it", seen)
	}
	if seen := check("a menu", ForMenu(Menu{Takes: "1, practice", Leaves: "back"})); seen["/"] != Quit || seen["q"] != Quit {
		t.Errorf("a menu: the keys %v, want / and q to leave", seen)
	}
}

// Practice keeps no journal, so nothing of it goes on another time; a session of a journal does.
func TestQuitSaysWhatIsKept(t *testing.T) {
	for practice, want := range map[bool]string{false: "quit; the session goes on another time", true: "quit; practice keeps no journal"} {
		for _, b := range Listed(Situation{Now: session.Now{Waits: session.ForReading}, Practice: practice}) {
			if b.Action == Quit && b.Says != want {
				t.Errorf("practice %t: %q, want %q", practice, b.Says, want)
			}
		}
		if !slices.ContainsFunc(Listed(Situation{Now: session.Now{Waits: session.ForReading}, Practice: practice}),
			func(b Binding) bool { return b.Action == Quit }) {
			t.Errorf("practice %t: no line quits", practice)
		}
	}
}

// Enter says what it does with what is asked for: done where a step or a wind is only confirmed, and take, or measure at the simulated
// machine, where a number is to be typed, or to be measured, first.
func TestEnterSaysDoneWhereNothingIsTyped(t *testing.T) {
	for _, c := range []struct {
		waits              session.Waits
		measures, practice bool
		want               string
	}{
		{session.ForLoad, false, false, "done"}, {session.ForBack, false, true, "done"},
		{session.ForWind, false, false, "done"}, {session.ForChore, false, false, "done"}, {session.ForChore, false, true, "done"},
		{session.ForWind, true, false, "take"}, {session.ForChore, true, false, "take"},
		{session.ForWind, true, true, "measure"}, {session.ForChore, true, true, "measure"},
	} {
		s := Situation{Now: session.Now{Waits: c.waits, Measures: c.measures}, Practice: c.practice}
		b, ok := Find(For(s), "enter")
		if !ok || b.Help().Desc != c.want || b.Why != "" {
			t.Errorf("%v, a number %v, practice %v: Enter %q (%q), want %q", c.waits, c.measures, c.practice, b.Help().Desc, b.Why, c.want)
		}
	}
}
