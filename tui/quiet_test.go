package tui_test

import (
	"strconv"
	"strings"
	"testing"
	"unicode"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/slide"
	"example.org/trammel/tui"
)

// What a reading is expected to be would pull the eye: it is nowhere on the screen before the
// station has been read, on no page and at no size. (indicator/session holds Expected to the fit.)
func TestExpectedIsNotShown(t *testing.T) {
	seen := 0
	for _, w := range []*stand{{41.713, -0.117, 0.153}, {42.231, 0.171, -0.043}, {41.9, 0.33, 0.29}} {
		d := loaded(t, real(t, nil)).Size(120, 40)
		for range 40 {
			if p := d.prompt(); p.Waits == session.ForReading && p.Reading.Expected.Known() {
				seen++
				for _, page := range sortedPages() {
					if page == "form" && d.state().Trial > 1 {
						continue // the last sweep's, in thousandths, as what is expected of the next is
					}
					d.Send(pages[page])
					for _, number := range spellings(d, p.Reading.Expected.V) {
						for _, word := range strings.Fields(d.Screen()) {
							if strings.Trim(word, "+−-;,:") == number {
								t.Fatalf("%s is expected, and stands on the screen before it is read:\n%s", number, d.Screen())
							}
						}
					}
					d.Send(pages[page])
				}
			}
			w.work(d, 1, nothing)
		}
		if d.state().Trial < 2 {
			t.Fatalf("only %d trial: nothing was expected at its beginning", d.state().Trial)
		}
	}
	if seen < 10 {
		t.Fatalf("a reading was expected %d times, want 10 or more", seen)
	}
}

// spellings are the ways in which a length could stand on the screen, but for those that stand
// there for another reason: a reading that has been taken, and what is made of it.
func spellings(d *driver, mm float64) []string {
	s := d.state()
	taken := ""
	for tr := s.Past; tr != nil; tr = tr.Before {
		taken += listed(&tr.Sweep)
	}
	taken += listed(&s.Sweep)
	if f, err := s.Fit(); err == nil {
		for _, v := range []float64{f.CentreX().V, f.CentreY().V, f.Offset().V} {
			taken += " " + strconv.FormatFloat(v, 'f', 3, 64)
		}
	}
	var out []string
	for places := 3; places <= 6; places++ {
		number := strings.TrimPrefix(strconv.FormatFloat(mm, 'f', places, 64), "-")
		if strings.Trim(number, "0.") != "" && !strings.Contains(taken, number) {
			out = append(out, number)
		}
	}
	return out
}

func listed(w *session.Sweep) string {
	text := ""
	for _, st := range w.Stations[:w.N] {
		text += " " + strconv.FormatFloat(st.Reading, 'f', 3, 64) + " " + strconv.FormatFloat(st.OffBy.V, 'f', 3, 64)
	}
	return text
}

// No key enters what is expected: whatever single key is pressed, and Enter behind it, a reading
// comes only of digits that were typed.
func TestNoKeyEntersWhatIsExpected(t *testing.T) {
	var all []tea.KeyMsg
	for r := rune(' '); r <= '~'; r++ {
		all = append(all, char(r))
		all = append(all, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}, Alt: true})
	}
	for k := tea.KeyType(-100); k < 128; k++ {
		if name := k.String(); name != "" && k != tea.KeyRunes {
			all = append(all, tea.KeyMsg{Type: k})
		}
	}
	for _, k := range all {
		for _, then := range [][]tea.KeyMsg{{k}, {k, {Type: tea.KeyEnter}}, {k, k}} {
			d := (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 4, nothing)
			if !d.prompt().Reading.Expected.Known() {
				t.Fatal("nothing is expected at the fifth station")
			}
			before := len(d.mem.Lines)
			for _, m := range then {
				d.Send(m)
			}
			for i, line := range d.mem.Lines[before:] {
				r, err := session.Decode(before+i+1, line)
				if err != nil {
					t.Fatal(err)
				}
				digit := len(k.Runes) == 1 && !k.Alt && unicode.IsDigit(k.Runes[0])
				if took, ok := r.Event.(session.Took); ok && !(digit && took.Reading == 0) {
					t.Errorf("%v takes a reading: %s", then, line)
				}
			}
		}
	}
}

// hostile is a text that would drive a terminal: C0 and C1 controls, a title, a cursor movement.
const hostile = "a\x1b[2Jb\x1b]0;c\ad\x9b5me\r\nf\x7fg\x00h"

// Whatever names, notes and messages hold, nothing of it reaches the terminal as a control. A
// journal may come from anywhere; its check says that it is whole, not that it is kind.
func TestNothingDrivesTheTerminal(t *testing.T) {
	foul := func(o *session.Opened) {
		o.Program, o.Machine.Name = hostile, hostile
		o.Files = []session.File{{Name: hostile, SHA256: hostile}}
	}
	states := map[string]session.State{}
	for _, s := range scenes() {
		states[s.name] = s.open(t, real(t, foul)).state()
	}
	told := session.Told{Step: 1, Of: 2, Wind: slide.Wind{Slide: hostile, Travel: 0.1,
		Moves: []slide.Move{{Turn: slide.Clockwise, Divisions: 5}}}}
	states["a foul wind"] = states["stations-5"].Apply(told)
	states["a wind without movements"] = states["stations-5"].Apply(session.Told{Step: 1, Of: 1})
	states["wound"] = states["a foul wind"].Apply(session.Wound{Slide: hostile}).Apply(session.Told{Step: 2, Of: 2,
		Wind: slide.Wind{Slide: hostile}})
	states["past"] = states["a foul wind"].Apply(session.Wound{}).Apply(told).Apply(session.Told{Step: 2, Of: 2,
		Wind: slide.Wind{Slide: hostile}}).Apply(session.Wound{})
	states["noted"] = states["station"].Apply(session.Noted{Text: hostile})
	states["off"] = states["station"].Apply(session.Skipped{Off: hostile})
	for name, s := range states {
		for _, page := range sortedPages() {
			d := &driver{t: named{t, name + ", " + page}, mem: &session.Memory{}}
			d.live = session.NewLive(s, d.mem)
			d.model = tui.NewModel(tui.Config{Live: d.live, Now: clock()}, colours(termenv.Ascii, false))
			d.Size(80, 24)
			clean(d)
			d.Enter().Send(pages[page])
			clean(d)
			d.Size(120, 40).Type("/").Type("0.1").Enter().Enter()
			clean(d)
		}
	}
	d := loaded(t, real(t, nil)).Paste(hostile).Enter()
	clean(d)
	d.Type("n").Paste(hostile)
	clean(d)
	d.Enter()
	clean(d)
}

func clean(d *driver) {
	d.t.Helper()
	for _, r := range d.model.View() {
		if r != '\n' && !unicode.IsPrint(r) {
			d.t.Fatalf("%q reaches the terminal in\n%q", r, d.model.View())
		}
	}
}
