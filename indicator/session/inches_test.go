package session_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
)

// inInches is the bench's job typed in inches; whole numbers count thousandths where that is wanted.
func inInches(thousandths bool) func(*session.Opened) {
	return func(o *session.Opened) {
		o.Job.Unit = geom.Inch
		if thousandths {
			o.Job.Dial.WholeNumbers = indicator.Thousandths
		}
	}
}

// Where the job says so, a whole number at the dial is thousandths, and 0.001 in is 0.0254 mm; a point says inches, and a job
// that says nothing takes inches as ever.
func TestWholeNumbersAreThousandths(t *testing.T) {
	for _, c := range []struct {
		text        string
		thousandths bool
		want        float64 // inches
	}{
		{"12", true, 0.012}, {"-5", true, -0.005}, {"−5", true, -0.005}, {"+7", true, 0.007}, {"0", true, 0}, {" 3 ", true, 0.003},
		{"0.012", true, 0.012}, {"0,012", true, 0.012}, {"12.", true, 12}, {"1e1", true, 10}, {"12", false, 12},
	} {
		o := stepwise(t, false)
		inInches(c.thousandths)(&o)
		s := open(t, o, near42(0, 0, 0)).until(session.ForReading).state()
		cmd, err := s.Read(c.text)
		take, ok := cmd.(session.Take)
		if err != nil || !ok || math.Abs(take.Reading-25.4*c.want) > 1e-12 {
			t.Errorf("%q, thousandths %v: %v, %v, want %v in", c.text, c.thousandths, cmd, err, c.want)
		}
	}
	// Where the slide stopped under the needle, and what the needle showed when the dial was set anew, in both ways to say it.
	o := stepwise(t, false)
	inInches(true)(&o)
	p := open(t, o, near42(0.1, 0.2, 0)).until(session.ForWind)
	if q := p.prompt(); q.Wind.How != session.UnderNeedle {
		t.Fatalf("the wind goes by %v, want the needle", q.Wind.How)
	}
	s := p.state()
	if cmd, err := s.Read("-16"); err != nil || math.Abs(cmd.(session.Take).Reading+0.4064) > 1e-12 {
		t.Errorf("parked: %v, %v", cmd, err)
	}
	want := session.Bezel{Showed: -0.3048, Shows: 0.0508}
	near := func(c session.Command, err error) bool {
		b, ok := c.(session.Bezel)
		return err == nil && ok && math.Abs(b.Showed-want.Showed) < 1e-12 && math.Abs(b.Shows-want.Shows) < 1e-12
	}
	if c, err := s.Read("bezel\t-12  0.002"); !near(c, err) {
		t.Errorf("bezel: %v, %v", c, err)
	}
	for _, r := range session.Commands() {
		if r.Word == "bezel" {
			if c, err := r.Answer(&s, "-12 2"); !near(c, err) {
				t.Errorf("bezel by its key: %v, %v", c, err)
			}
		}
	}
	// A coordinate or a radius is inches, whole or not.
	if c, err := s.Read("at x 2"); err != nil || c != (session.At{Slide: "x", At: 50.8}) {
		t.Errorf("at: %v, %v", c, err)
	}
	arc := onArc(t, 0, inInches(true)).state()
	if c, err := arc.Read("2"); err != nil || c != (session.Take{Reading: 50.8}) {
		t.Errorf("an arc's radius: %v, %v", c, err)
	}
}

// A length that somebody measured or states may be a fraction; what an instrument shows may not, and in millimetres nothing.
func TestFractionsTyped(t *testing.T) {
	arc := onArc(t, 0, inInches(false)).state()
	o := stepwise(t, false)
	inInches(true)(&o)
	station := open(t, o, near42(0, 0, 0)).until(session.ForReading).state()
	metric := open(t, stepwise(t, false), near42(0, 0, 0)).until(session.ForReading).state()
	for _, c := range []struct {
		s    *session.State
		text string
		want session.Command
	}{
		{&arc, "1-1/2", session.Take{Reading: 38.1}}, {&arc, "1 1/2", session.Take{Reading: 38.1}},
		{&station, "hold 1-5/8 1/64", session.Hold{Radius: 41.275, Limit: 0.396875}},
		{&station, "hold 1-5/8 0.01", session.Hold{Radius: 41.275, Limit: 0.254}},
		{&station, "at offset 1 5/8", session.At{Slide: "offset", At: 41.275}}, {&station, "height 1/4", session.Raise{Height: 6.35}},
		{&station, "height -1-1/4", session.Raise{Height: -31.75}},
		{&station, "limit reach ±1/64", session.StateLimit{Figure: indicator.OfReach, Limit: 0.396875}},
	} {
		got, err := c.s.Read(c.text)
		if take, ok := c.want.(session.Take); ok && err == nil {
			if is, took := got.(session.Take); took && math.Abs(is.Reading-take.Reading) < 1e-9 {
				continue
			}
		}
		if err != nil || got != c.want {
			t.Errorf("%q: %+v, %v, want %+v", c.text, got, err, c.want)
		}
	}
	g, err := arc.Read("chord 1 3/16 sagitta 1/8 error 1/64")
	got, ok := g.(session.Gauge)
	if err != nil || !ok || math.Abs(got.Figures[0].V-30.1625) > 1e-9 || got.Figures[1].V != 3.175 || got.Error != 0.396875 {
		t.Errorf("chord and sagitta: %+v, %v", g, err)
	}
	for _, c := range []struct {
		s          *session.State
		text, says string
	}{
		{&station, "3/16", `"3/16" is a fraction, need what the dial or the readout shows, in its own figures`},
		{&station, "1 3/16", "in its own figures"}, {&station, "19/16", "not between 0 and 1"}, {&station, "1/3", "denominator of 3"},
		{&station, "bezel 1/16 0", "is not a number"}, {&metric, "3/16", "a length in mm has none"},
		{&metric, "hold 42 1/8", "a length in mm has none"}, {&metric, "at x 1-3/16", "a length in mm has none"},
		{&station, "hold 1 5/8", "1 5/8 may be one figure or two, need 1-5/8 for one"},
		{&station, "hold d 3 1/4 1/64", "3 1/4 may be one figure or two"}, {&arc, "chord 1-3/15 sagitta 1/8", "denominator of 15"},
	} {
		cmd, err := c.s.Read(c.text)
		var refusal *session.Refusal
		if cmd != nil || !errors.As(err, &refusal) || !strings.Contains(refusal.Because, c.says) || refusal.Hint == "" {
			t.Errorf("%q: %v, %v, want refused: %s", c.text, cmd, err, c.says)
		}
	}
}
