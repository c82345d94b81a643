package record

import (
	"fmt"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

// SessionLine tells of one journal among others.
type SessionLine struct {
	Say      string    `json:"say"`
	Name     string    `json:"name"`
	Journal  string    `json:"journal"`
	Last     string    `json:"last"` // time of the last event, RFC 3339; empty where there is none
	Machine  string    `json:"machine"`
	Open     bool      `json:"open"` // a setting waits to be gone on with
	Events   int       `json:"events"`
	Accepted []Reached `json:"accepted"`
	Stands   *Reached  `json:"stands"` // the open setting; null where all are accepted
	// TornBytes is how many bytes of an unfinished last line there are; Wrong is what is wrong with
	// the file, empty where nothing is.
	TornBytes int    `json:"torn_bytes"`
	Wrong     string `json:"wrong"`
}

// Reached is what a setting has reached. Swing and the centre are null where they are not known, and
// belong to the sweep of that trial.
type Reached struct {
	Unit     geom.Unit `json:"unit"`
	Trial    int       `json:"trial"`
	Readings int       `json:"readings"`
	// Part is which part on its setting it is, from the second on; Counted is the last part that was counted behind it and not swept.
	Part    int    `json:"part,omitempty"`
	Counted int    `json:"counted,omitempty"`
	Target  Number `json:"target"`
	Swing   *Value `json:"swing"`
	X       *Value `json:"x"`
	Y       *Value `json:"y"`

	text string
}

// ReachedBy tells what a setting has reached, or where it stands.
func ReachedBy(s *session.State, u geom.Unit) Reached {
	r := Reached{Unit: u, Trial: s.Trial, Readings: s.Sweep.Readings(), Target: Number(nan)}
	if s.Set.Job.Target.WantsSwing() {
		r.Target = Number(u.From(s.Set.Job.Target.SwingRadius))
	}
	var said []string
	if f, err := s.Fit(); err == nil {
		if v := f.Swing(); v.Known() {
			r.Swing = ValueOf(u, v)
			said = append(said, "swing "+Measured(u, v))
		}
		if g, ok := s.Standing(&f); ok {
			f = g // from where the spindle stands, and not from the circle's own middle
		}
		x, y := f.CentreX(), f.CentreY()
		r.X, r.Y = ValueOf(u, x), ValueOf(u, y)
		said = append(said, "centre x "+Measured(u, x), "y "+Measured(u, y))
	}
	if s.Part > 1 {
		r.Part = s.Part
	}
	if s.Accepted() {
		r.text = AcceptedWords(s)
	} else {
		r.text = fmt.Sprintf("open, %s, %d readings", trialWords(s), r.Readings)
	}
	if len(said) > 0 {
		r.text += ": " + strings.Join(said, ", ")
	}
	return r
}

// count says that parts up to one were counted behind it.
func (r *Reached) count(part int) {
	r.Counted = part
	r.text += fmt.Sprintf("; behind it counted without a sweep, up to part %d", part)
}

// AcceptedWords say of an accepted setting in which trial it was, and of which part of several.
func AcceptedWords(s *session.State) string {
	switch {
	case s.Part < 2:
		return fmt.Sprintf("accepted in trial %d", s.Trial)
	case s.Unswept:
		return fmt.Sprintf("part %d counted, not swept", s.Part)
	}
	return fmt.Sprintf("part %d accepted in trial %d", s.Part, s.Trial)
}

// trialWords name the trial, and the part where it is one of several.
func trialWords(s *session.State) string {
	if s.Part > 1 {
		return fmt.Sprintf("part %d, trial %d", s.Part, s.Trial)
	}
	return fmt.Sprintf("trial %d", s.Trial)
}

// StandsWords says in a few words how far an open setting is.
func StandsWords(s *session.State) string {
	read := count(s.Sweep.Readings(), "station") + " read"
	switch s.Phase {
	case session.Preparing, session.Loading:
		read = "no station read yet"
	case session.Winding:
		read += ", winds to do"
	case session.SettledDown:
		read += ", settled and not accepted"
	case session.Unopened, session.Sweeping, session.Cutting, session.Ended:
	}
	return trialWords(s) + ", " + read
}

// Text is a line of what was reached.
func (r Reached) Text() string { return r.text }

// Text is the session's name and what is known of it, a line for each setting.
func (l SessionLine) Text() string {
	rows := []string{geom.PrintableLine(l.Name)}
	if l.Last != "" {
		rows[0] += ", last " + l.Last
	}
	if l.Machine != "" {
		rows[0] += ", " + l.Machine
	}
	for _, r := range l.Accepted {
		rows = append(rows, "  "+r.text)
	}
	if l.Stands != nil {
		rows = append(rows, "  "+l.Stands.text)
	}
	if l.TornBytes > 0 {
		rows = append(rows, fmt.Sprintf("  %d bytes of an unfinished line stand at its end", l.TornBytes))
	}
	if l.Wrong != "" {
		rows = append(rows, "  wrong: "+geom.PrintableLine(l.Wrong))
	}
	if len(rows) == 1 {
		rows = append(rows, "  empty")
	}
	return strings.Join(rows, "\n")
}
