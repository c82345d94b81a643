package tui_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/muesli/termenv"

	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
	"example.org/trammel/tui"
)

// accused is a screen at the check of what the winds have put in question, of a journal in which that came up.
func accused(t *testing.T) *driver {
	t.Helper()
	var s session.State
	for _, r := range testdata.Records(t, "v1-restated.jsonl") {
		if s = s.Apply(r.Event); len(s.InQuestion()) > 1 && s.Accused != nil {
			break
		}
	}
	d := &driver{t: t, mem: &session.Memory{}}
	d.live = session.NewLive(s, d.mem)
	d.model = tui.NewModel(tui.Config{Live: d.live, Now: clock()}, colours(termenv.Ascii, false))
	return d.Size(80, 24).Waits(session.ForCheck)
}

// What is put right is chosen from a list by its number, nothing of it cut in any window, in place of a line of the status row.
func TestPutRightByNumber(t *testing.T) {
	d := accused(t)
	s := d.state()
	all := s.InQuestion()
	for _, w := range []int{80, 60, 40} {
		d := accused(t).Size(w, 24).Type("=")
		page := pageOf(d.Screen())
		if !strings.HasPrefix(page, "which of these is wrong, and is to be put right?") {
			t.Errorf("%d columns: asked by %q", w, page)
		}
		for _, c := range all {
			if c.Key != "" && !strings.Contains(page, "only if the check says so: "+strings.Split(c.Key, ",")[0]) {
				t.Errorf("%d columns: %s is not told on\n%s", w, c.Key, d.Screen())
			}
		}
		if strings.Contains(page, "…") {
			t.Errorf("%d columns: cut\n%s", w, d.Screen())
		}
	}
	i := 0
	for all[i].Key == "" {
		i++
	}
	d.Type("=").Type(d.number("put right, only if the check says so: " + all[i].Key + ": " + all[i].Was + " -> " + all[i].Is)).Enter().
		Expect(Line("put right", all[i].Key))
	if s := d.state(); s.Accused != nil || s.Sweep.N != 0 {
		t.Errorf("still in question, with %d readings", s.Sweep.N)
	}
}

// While a sign is asked for, the numbers are what the needle did, on the page and in the list: nothing of what is in question has
// one on the page, and what would be put right stands at the list's end.
func TestNumbersAreTheChecksAnswers(t *testing.T) {
	d := accused(t)
	page := d.Screen()
	for _, c := range d.prompt().Check.Causes {
		if c.Key != "" && strings.Contains(page, "1  clockwise") {
			t.Errorf("%s has a number on\n%s", c.Key, page)
		}
	}
	d.Expect(Line("-  clockwise"))
	items := d.Type("*").model.(interface{ Items() []tui.Item }).Items()
	for i, want := range []string{"the needle went up", "the needle went down", "the needle did not move",
		"the needle moved only on the way back"} {
		if items[i].Words != want {
			t.Errorf("line %d is %q, want the answer that %d is: %q", i+1, items[i].Words, i+1, want)
		}
	}
	fixes := 0
	for i := len(items) - 1; strings.HasPrefix(items[i].Words, "put right, only if the check says so: "); i-- {
		fixes++
	}
	for _, it := range items {
		if strings.HasPrefix(it.Words, "put right") {
			fixes--
		}
	}
	if fixes != 0 || !strings.HasPrefix(items[len(items)-1].Words, "put right") {
		t.Errorf("what would be put right is not at the end of %+v", items)
	}
	slide := d.prompt().Check.Plan.Slide
	d.Type("2").Enter()
	s := d.state()
	if e, ok := s.LastEntry().(session.Sensed); !ok || e.Slide != slide || e.Went != session.Down {
		t.Errorf("line 2 answered %+v, want that the needle went down as %s was wound", s.LastEntry(), slide)
	}
}

// A hand that wound the wrong way is not led to change what is stated: the check clears the slide, and the first station of a new
// sweep is asked for.
func TestSlipIsClearedByTheCheck(t *testing.T) {
	d := (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 40, session.ForWind)
	k := d.prompt().Wind.Told.Park
	d.Type(fmt.Sprintf("%.3f", k.Now-0.6*(k.Goal-k.Now))).Enter().Waits(session.ForCheck)
	d.Expect(Line("the needle went the other way than it should"), Line("something stated is in question")) // before anything is asked
	answer := "1"
	if d.prompt().Check.Plan.Must == session.Down {
		answer = "2"
	}
	d.Type(answer).Enter().Waits(session.ForReading)
	if s := d.state(); s.Sweep.N != 0 || d.prompt().Reading.Station != 1 {
		t.Errorf("station %d with %d readings, want the first of a new sweep", d.prompt().Reading.Station, s.Sweep.N)
	}
	d.Expect(Line("something has moved: a new"), Line("sweep begins"))
}

// Where no check tells more, the page says which number puts what is left right, in its large letters too; Enter alone is refused with
// the same, for it chooses nothing.
func TestPutRightSaysWhatToType(t *testing.T) {
	for _, x := range []struct {
		went, page string
	}{{"1", "type 1, then Enter"}, {"2", "type the number of the one"}} {
		d := accused(t)
		for i := 0; d.prompt().Check.Plan.Slide != ""; i++ {
			if i > 4 {
				t.Fatal("the checks of signs do not end")
			}
			d.Type(x.went).Enter().Waits(session.ForCheck)
		}
		golden(t, "80x24/put-right-"+x.went, d.Expect(Line(x.page)).Screen())
		if d.Enter().Expect(Line("✗ take: type the number of what is wrong, then Enter puts it right")); d.state().Accused == nil {
			t.Error("Enter alone puts something right")
		}
		if d.Type("1").Enter(); d.state().Accused != nil {
			t.Errorf("1 leaves it in question:\n%s", d.Screen())
		}
	}
}
