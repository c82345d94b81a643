package tui_test

import (
	"fmt"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui/keys"
)

// situation is what the keys of a screen without a page depend on.
func situation(d *driver) keys.Situation {
	s := d.state()
	p, noForm := d.prompt(), ""
	if _, err := s.Form(); err != nil {
		noForm = err.Error()
	}
	return keys.Situation{Now: s.Now(&p), NoForm: noForm}
}

// press presses a key by the name that the terminal library gives it.
func (d *driver) press(name string) *driver {
	d.t.Helper()
	if r := []rune(name); len(r) == 1 {
		return d.Send(char(r[0]))
	}
	for k := tea.KeyType(-100); k < 128; k++ {
		if k.String() == name {
			return d.Press(k)
		}
	}
	d.t.Fatalf("no key is called %q", name)
	return d
}

// wants is what a key asks of the session; nil where it only concerns the screen.
func wants(t testing.TB, b keys.Binding, p session.Prompt) session.Command {
	t.Helper()
	switch {
	case b.Action == keys.Enter:
		switch { // with a reading typed
		case p.Waits == session.ForReading:
			return session.Take{}
		case p.Waits == session.ForChore && p.TakesReading():
			return session.Take{Reading: 38.3}
		}
		if p.Waits == session.ForAccept { // once it was asked
			return session.Accept{}
		}
		return session.Confirm{}
	case b.Row == nil || (b.Row.Takes() && b.Row.Word != "note") || b.Row.ByList(): // with figures or answers of their own
		return nil
	case b.Row.Word == "closing" || b.Row.Word == "enough": // how many readings they need the session alone says
		return nil
	}
	rest := map[string]string{"off": "free", "note": "x"}[b.Row.Word]
	c, err := b.Row.Say(rest, geom.Millimetre)
	if err != nil {
		t.Errorf("%s: %v", b.Help().Desc, err)
	}
	return c
}

// In every state of the job, a key can act exactly when the session would not refuse what it asks
// for; and one that cannot act says why when it is pressed, and does nothing.
func TestKeysAgreeWithTheSession(t *testing.T) {
	for _, s := range scenes() {
		if s.name == "noting" || s.name == "lost" {
			continue // there, keys are text, or there is no session to go on with
		}
		d := s.open(t, real(t, nil))
		for _, b := range keys.For(situation(d)) {
			if c := wants(t, b, d.prompt()); c != nil {
				_, err := session.Decide(d.state(), c)
				if err != nil && strings.HasPrefix(err.Error(), "too far: ") { // on that side only
					_, err = session.Decide(d.state(), session.Skip{Off: session.Pressed})
				}
				if (b.Why == "") != (err == nil) {
					t.Errorf("%s: %s: why not %q, while the session says %v", s.name, b.Help().Desc, b.Why, err)
				}
			}
			if b.Why == "" || d.state().Phase == session.Ended { // the screen is closed by then
				continue
			}
			for _, name := range b.Keys() {
				d := s.open(t, real(t, nil)).Esc()
				lines := len(d.mem.Lines)
				d.t = named{t, s.name + ", " + name}
				d.press(name).Expect(Line("✗ " + b.Help().Desc + ": " + b.Why))
				if len(d.mem.Lines) != lines {
					t.Errorf("%s: %s, which cannot act, does", s.name, name)
				}
			}
		}
	}
}

// What every shortcut does where it can act, each by each of its names.
func TestShortcuts(t *testing.T) {
	four := func() *driver { return (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 4, nothing) }
	last := func(d *driver) string {
		r, err := session.Decode(len(d.mem.Lines), d.mem.Lines[len(d.mem.Lines)-1])
		if err != nil {
			t.Fatal(err)
		}
		return strings.TrimPrefix(fmt.Sprintf("%T", r.Event), "session.")
	}
	cases := []struct {
		names, event, says string
	}{
		{"/ u", "Undone", "taken back: station 4, −0.406 mm"},
		{"s", "Skipped", "station 5, 240°: left out"},
		{"r", "Took", "Enter once more: sweep again, and the readings of this sweep are set aside"},
		{">", "Told", "park at 0°"},
		{"t", "Took", "1  4 readings"},
		{"i", "Took", "spindle off and isolated"},
		{"? f1", "Took", "a reading at a station"},
		{"n", "Took", "note"},
		{"o", "Took", "1  needle off: over-pressed (p)"},
		{"*", "Took", "1  needle off: over-pressed"},
	}
	for _, c := range cases {
		for _, name := range strings.Fields(c.names) {
			d := four().press(name).Expect(Line(c.says))
			if got := last(d); got != c.event {
				t.Errorf("%s: the last event is %s, want %s", name, got, c.event)
			}
		}
	}
	for _, name := range []string{"?", "f1"} {
		four().press(name).press(name).Expect(Line("page 2 of ")).press("/")
	}
	for _, name := range []string{"t"} {
		four().press(name).press(name).Expect(Line("station 5 of 6"))
	}
	// The set-up page has two leaves in this window.
	four().press("i").press("i").Expect(Line("1  indicator in cutter spindle"),
		Nowhere("S spindle, o tip")).press("i").Expect(Line("station 5 of 6"))
	for _, name := range []string{"q", "ctrl+c"} {
		if !four().press(name).quit {
			t.Errorf("%s does not leave", name)
		}
	}
	if !four().press("ctrl+z").stopped {
		t.Error("ctrl+z does not go to the shell")
	}
	d := (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 40, session.ForAccept).Type("a").Enter()
	if last(d) != "Accepted" || d.quit {
		t.Errorf("a: the last event is %s, left %v; want accepted and its page there", last(d), d.quit)
	}
	d.Bytes("0.1\r").Type("rsek")
	if last(d) != "Accepted" || d.quit {
		t.Error("something is taken after the setting is accepted")
	}
	if d.Enter(); !d.quit {
		t.Error("Enter does not leave the page of what was reached")
	}
}

// The form of the reference opens with f once six stations are in, and closes with f, Esc, Enter or a
// number; before, and while a reading is in doubt, the key says what is missing.
func TestFormPage(t *testing.T) {
	four := (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 4, nothing)
	four.Type("f").Expect(Line("✗ form: 4 readings, need at least 6 stations"), Nowhere("minimum zone"))
	doubted("0.2")(t, real(t, nil)).Type("f").Expect(Line("✗ form: station 5 is in doubt, settle that first"), Nowhere("minimum zone"))

	six := func() *driver {
		return (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 6, nothing).Waits(session.ForWind)
	}
	open := []expectation{Line("form of the bore: trial 1, 6 stations"), Line("least squares", "LSC", "0.006"),
		Line("minimum zone", "MZC", "0.005"),
		Line("smallest outside", "MCC", "0.007"), Line("largest inside", "MIC", "0.009"), Line("form ×"), Line("Enter goes on"),
		Line("* list")}
	for name, leave := range map[string]func(*driver){
		"f": func(d *driver) { d.Type("f") }, "Esc": func(d *driver) { d.Esc() }, "Enter": func(d *driver) { d.Enter() },
	} {
		d := six().Size(100, 24).Type("f").Expect(open...)
		leave(d)
		d.t = named{t, name}
		d.Waits(session.ForWind).Expect(Nowhere("minimum zone"), Line("X slide"))
	}

	// Later sweeps stop early; the reference is still the one that was swept in trial 1.
	(&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 40, session.ForAccept).Type("f").Expect(open[0])
	// Settled without ever having had six: what would help is said.
	(&stand{42, 0, 0}).work(loaded(t, real(t, func(o *session.Opened) { o.Job.Sweep.Stations = 5 })), 40, session.ForAccept).Type("f").
		Expect(Line("✗ form: 5 readings, need at least 6 stations; at_least = 6 in the job"))
	// Taken back while it lies open, the form is gone, and the page says why.
	six().Type("f/").Expect(Line("cannot be judged: 5 readings"))
	// A cable goes on with the work.
	d := (&stand{42.06, 0, 0}).work(loaded(t, real(t, func(o *session.Opened) { o.Job.Sweep.Stations, o.Job.Sweep.AtLeast = 8, 8 })), 6,
		nothing)
	d.Type("f").Expect(Line("6 stations")).Burst("0.06").Expect(Nowhere("minimum zone"), Line("0.06"))
}

// An entry that has been begun does not outlive what it was for.
func TestShortcutsClearTheEntry(t *testing.T) {
	for _, name := range []string{"/", "s"} {
		d := (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 4, nothing).Type("0.7").press(name)
		before := d.state().Sweep.N
		if d.Enter(); d.state().Sweep.N != before {
			t.Errorf("0.7, %s, Enter takes a reading", name)
		}
	}
}

// A note takes every key but Enter and Esc as text, and is one line of what can be printed.
func TestNote(t *testing.T) {
	d := loaded(t, real(t, nil)).Type("njaws greased, q?").Expect(Line("note"), Line("jaws greased, q?")).Enter()
	d.Expect(Line("noted: jaws greased, q?")).Readings()
	n := len(d.mem.Lines)
	d.Type("nfor nothing").Esc().Type("n").Enter().Type("n  ").Enter().Press(tea.KeyCtrlJ)
	if len(d.mem.Lines) != n {
		t.Errorf("notes that were not written are recorded: %s", d.mem.Lines[n])
	}
	d.Type("n")
	if _, cmd := d.model.Update(tea.KeyMsg{Type: tea.KeyCtrlV}); cmd != nil {
		t.Error("ctrl+v sets something going: it would read the machine's clipboard")
	}
	d.Paste("two\nlines\x1b[31m and\ta tab").Enter()
	s := d.state()
	if s.Notes != 2 || d.quit {
		t.Fatalf("%d notes, left %v\n%s", s.Notes, d.quit, d.Screen())
	}
	d.Expect(Line("noted: two lines"))
	d.Type("n").Press(tea.KeyCtrlC)
	if d.quit {
		t.Error("ctrl+c while a note is typed leaves; it should leave the note")
	}
	d.Type("0.12").Enter().Readings(0.12)

	// A long note scrolls: what is typed last is seen.
	loaded(t, real(t, nil)).Type("n"+strings.Repeat("long ", 30)+"end").Expect(Line("note"), Line("end_"))
}

// Back from the shell the window may have another size, and may hold another program's text.
func TestBackFromTheShell(t *testing.T) {
	d := loaded(t, real(t, nil))
	_, cmd := d.model.Update(tea.ResumeMsg{})
	var got []string
	for _, c := range cmd().(tea.BatchMsg) {
		got = append(got, fmt.Sprintf("%T", c()))
	}
	if s := strings.Join(got, " "); s != "tea.clearScreenMsg tea.windowSizeMsg" {
		t.Errorf("after the shell: %s, want the screen cleared and the size asked for", s)
	}
}
