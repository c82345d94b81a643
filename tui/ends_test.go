package tui_test

import (
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/tui"
)

// reachedEnd is a screen of 80 × 24 on a journal, worked up to the accepted setting and no further.
func reachedEnd(t testing.TB, change func(*session.Opened), then func(*tui.Config)) *driver {
	t.Helper()
	d := &driver{t: t, mem: &session.Memory{}}
	d.live = session.NewLive(session.State{}, d.mem)
	now := clock()
	if _, err := d.live.Do(session.Open{Opened: opened(t, change)}, now()); err != nil {
		t.Fatal(err)
	}
	c := tui.Config{Live: d.live, Now: now, Journal: "plate.jsonl"}
	if then != nil {
		then(&c)
	}
	d.model = tui.NewModel(c, colours(termenv.Ascii, false))
	d.Size(80, 24).Enter()
	w := &stand{41.7, -0.11, 0.15}
	for range 60 {
		switch d.prompt().Waits {
		case session.ForAccept:
			return d.Enter().Enter()
		case session.ForChore:
			d.Enter()
		default:
			w.work(d, 1, session.ForAccept)
		}
	}
	t.Fatalf("nothing settles:\n%s", d.Screen())
	return nil
}

func withSteps(o *session.Opened) {
	o.Steps = true
	o.Job.Cut = &setup.Cut{Cutter: 8}
}

// read is a screen as one text, however it is broken into lines.
func read(d *driver) string { return strings.Join(strings.Fields(d.Screen()), " ") }

// says holds the page to what must be read on it, wherever it is broken.
func says(d *driver, words ...string) {
	d.t.Helper()
	for _, w := range words {
		if !strings.Contains(read(d), w) {
			d.t.Errorf("the page does not say %q:\n%s", w, d.Screen())
		}
	}
}

// A finished session stays on the screen until it is left, with what was reached, the journal and what comes next.
func TestAcceptedPageStays(t *testing.T) {
	d := reachedEnd(t, nil, nil)
	if d.quit || d.state().Phase != session.Ended {
		t.Fatalf("left %v in phase %d, want the page of what was reached", d.quit, d.state().Phase)
	}
	says(d, "accepted in trial 2", "swing radius 42.000 ±0.003 mm ✓ inside", "centre off 0.001 ±0.005 mm ✓ inside", "Enter leaves",
		"/ takes back the accepted setting", "journal plate.jsonl", "report: trammel report plate.jsonl",
		"replay: trammel replay plate.jsonl", "trammel dial --job FILE --machine FILE --journal plate.jsonl", "one dry swing",
		"supervision go first", "Enter leave")
	// Looking leads back to it, and nothing but leaving leaves.
	for _, look := range []string{"t", "m", "f", "?", "i"} {
		d.Type(look).Expect(Nowhere("takes back the accepted")).Enter()
		for n := 0; n < 20 && !strings.Contains(d.Screen(), "Enter leaves"); n++ { // some have several leaves
			d.Enter()
		}
		d.Expect(Line("Enter leaves"))
	}
	d.Esc().Bytes("0.12\r").Type("s").Press(tea.KeyUp).Expect(Line("Enter leaves"))
	d.Type("*").Expect(Line("quit; the setting stays accepted")).Type("*").Expect(Line("Enter leaves"))
	d.Type("nchips everywhere").Enter().Expect(Line("noted: chips everywhere"), Line("Enter leaves"))
	if d.quit {
		t.Fatal("the page was left")
	}
	if d.Enter(); !d.quit {
		t.Error("Enter does not leave it")
	}
	if d := reachedEnd(t, nil, nil).Type("q"); !d.quit {
		t.Error("q does not leave it")
	}
}

// On the page undo takes the acceptance back, and all goes on from there; it is accepted once more and is left.
func TestAcceptedTakenBackOnTheScreen(t *testing.T) {
	d := reachedEnd(t, nil, nil).Type("/").Waits(session.ForAccept)
	d.Expect(Line("taken back: the accepted setting"), Line("Enter twice accepts"), Nowhere("trammel report"))
	d.Type("r").Enter().Waits(session.ForReading)
	w := &stand{42, 0, 0}
	w.work(d, 20, session.ForAccept).Enter().Enter()
	says(d, "accepted in trial", "Enter leaves")
	s, err := session.Fold(d.mem.Lines, nil)
	if err != nil || !s.Accepted() {
		t.Fatalf("the journal: accepted %v, %v", s.Accepted(), err)
	}
	if d.Enter(); !d.quit {
		t.Error("Enter does not leave the page")
	}
}

// Where steps follow, the page of the accepted setting stands before the first of them; no key but Enter goes on to it, and no
// step is answered from here.
func TestAcceptedPageBeforeTheSteps(t *testing.T) {
	d := reachedEnd(t, withSteps, nil)
	says(d, "accepted in trial 2", "Enter goes on to the steps up to the checked arc, 9 of them", "/ takes back the accepted setting",
		"trammel dial --resume --journal plate.jsonl", "Enter go on")
	before := d.state().Events
	d.Type("s").Bytes("0.1\r").Esc()
	if d.state().Events != before {
		t.Fatalf("a step is answered before its page was there:\n%s", d.Screen())
	}
	says(d, "Enter goes on to the steps")
	d.Enter()
	if d.state().Events != before || d.quit {
		t.Fatal("Enter does more than go on")
	}
	says(d, "step 1 of 9")
	// Undo goes back by the steps, each named, then the setting.
	d.Enter().Enter().Type("/").Expect(Line("taken back: step 2, indicator out"))
	d.Type("/").Expect(Line("taken back: step 1, isolate")).Type("/").Expect(Line("taken back: the accepted setting"))
	d.Waits(session.ForAccept)
	// Accepted again and carried to the end, the last page has the arc, and undo takes its measurement back.
	d.Enter().Enter().Enter()
	for range 8 {
		d.Enter()
	}
	d.Bytes("38.01\r")
	if d.quit || d.state().Phase != session.Ended {
		t.Fatalf("left %v in phase %d:\n%s", d.quit, d.state().Phase, d.Screen())
	}
	says(d, "the job is done; accepted in trial 2", "radius 38.010 mm", "target 38.000 mm, off by +0.010 mm", "Enter leaves",
		"/ takes back step 9, check arc, radius 38.010 mm")
	d.Expect(Nowhere("before the cut"))
	d.Type("/").Expect(Line("taken back: step 9, check arc, radius 38.010 mm"))
	says(d, "step 9 of 9")
	d.Bytes("38.02\r").Enter()
	if !d.quit {
		t.Error("the finished session is not left")
	}
}

// A plan is gone back to, and said so.
func TestLastPageLeadsToThePlan(t *testing.T) {
	d := reachedEnd(t, nil, func(c *tui.Config) { c.Plan = true })
	says(d, "Enter leads back to the plan, for the next arc", "Enter to the plan")
	d.Expect(Nowhere("--job FILE"))
	if d.Enter(); !d.quit {
		t.Error("Enter does not leave it")
	}
}

// An Enter that bounces behind the one that accepted does not leave the page unread.
func TestBounceDoesNotLeaveThePage(t *testing.T) {
	for _, change := range []func(*session.Opened){nil, withSteps} {
		at, tick := begin, 20*time.Second
		d := reachedEnd(t, change, func(c *tui.Config) { c.Now = func() time.Time { at = at.Add(tick); return at } })
		before := d.state().Events
		tick = 10 * time.Millisecond
		for range 3 { // a key that is held
			d.Enter()
		}
		d.Type("/").Expect(Line("/ is not taken"))
		if d.quit || d.state().Events != before {
			t.Fatalf("a bounce leaves the page, or takes back what was accepted:\n%s", d.Screen())
		}
		says(d, "accepted in trial 2", "/ takes back the accepted setting")
		at = at.Add(time.Second)
		d.Enter()
		if d.quit != (change == nil) || strings.Contains(read(d), "step 1 of") != (change != nil) {
			t.Errorf("read, and Enter pressed: left %v\n%s", d.quit, d.Screen())
		}
		at = at.Add(190 * time.Millisecond) // no key that is held
		if d.Enter(); d.state().Events != before {
			t.Errorf("a bounce behind the page answers the first step:\n%s", d.Screen())
		}
	}
}

// However small the window, Enter shows the next leaf until all was shown, and then leaves: every word of the large page has been
// on one of them, the journal's long name and the verdict's "if" too.
func TestLastPageInSmallWindows(t *testing.T) {
	const name = "belt-tensioner/setting-sheets/journals/2025-03-04-0900-belt-tensioner-plate-42mm.jsonl"
	unstated := func(o *session.Opened) { o.Job.Stated = nil }
	open := func() *driver { return reachedEnd(t, unstated, func(c *tui.Config) { c.Journal = name }) }
	whole := open().Size(200, 60)
	says(whole, "✓ inside if", "nobody has said how right")
	want := []string{"accepted in trial 2", "42.000 ±0.003 mm", "inside if", "nobody has said how right they are", "0.001 ±0.005 mm",
		"Enter leaves", "/ takes back the accepted setting", "supervision go first"}
	for _, size := range [][2]int{{40, 10}, {40, 14}, {58, 20}, {20, 6}, {60, 18}, {20, 5}} {
		d := open().Size(size[0], size[1])
		all, squeezed, leaves := "", "", 0
		for !d.quit && leaves < 60 {
			d.Fits(size[0], size[1])
			if strings.Contains(strings.Join(strings.Split(d.Screen(), "\n")[:size[1]-4], ""), "…") {
				t.Errorf("%v: something is cut:\n%s", size, d.Screen())
			}
			rows := strings.Split(d.Screen(), "\n")
			if size[1] >= 14 {
				rows = rows[2:]
			}
			for _, r := range rows {
				r = strings.TrimSpace(r)
				if strings.HasPrefix(r, "page ") || strings.HasPrefix(r, "──") || strings.HasPrefix(r, "Enter leave ·") {
					break
				}
				all += r + " "
				squeezed += strings.ReplaceAll(r, " ", "")
			}
			leaves++
			d.Enter()
		}
		if !d.quit {
			t.Fatalf("%v: never left", size)
		}
		if size[1] < 14 && leaves < 2 {
			t.Errorf("%v: all on one leaf", size)
		}
		for _, w := range want {
			if !strings.Contains(all, w) {
				t.Errorf("%v: %q is on none of %d leaves:\n%s", size, w, leaves, all)
			}
		}
		for _, c := range []string{"journal", "trammelreport", "trammelreplay"} {
			if !strings.Contains(squeezed, c+name) {
				t.Errorf("%v: %s is not there with the journal's whole name:\n%s", size, c, squeezed)
			}
		}
	}
}
