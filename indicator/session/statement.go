package session

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/slide"
)

// Cause is a statement of job or machine that may be wrong: which, by its key in the file, what it was and what it would
// have to be. Several keys that go together are separated by commas, and what they were and are likewise. A cause without
// a key is none that a file could put right.
type Cause struct {
	Fault  advice.Fault `json:"cause,omitempty"`
	Slides []string     `json:"slides,omitempty"`
	// Turn is by how many degrees a ring's zero would be off, of an [advice.ZeroFault].
	Turn float64 `json:"turn,omitempty"`
	Key  string  `json:"key,omitempty"`
	Was  string  `json:"was,omitempty"`
	Is   string  `json:"is,omitempty"`
}

// statement is a row of what can be put right in a setting that is open.
type statement struct {
	// key names it; a * stands for a slide.
	key string
	// value is what is stated, in the file's words; ok is false where there is no such thing.
	value func(o *Opened, slide string) (v string, ok bool)
	// check refuses what cannot be stated.
	check func(v string) error
	// put states something else in a setting of its own, where dial and reach have been shifted by so much since.
	put func(o *Opened, slide, v string, bezel float64)
	// all says that it changes what every slide does, not that of the one that it names.
	all bool
}

// statements are what can be put right without opening another setting. What the winds cannot tell, and what moves a slide by
// its play, is not among them.
var statements = []statement{
	{key: "slide.*.clockwise", value: func(o *Opened, name string) (string, bool) {
		sl, ok := o.Machine.Slide(name)
		return sl.Clockwise.String(), ok
	}, check: checkText[slide.Way], put: func(o *Opened, name, v string, _ float64) {
		i := slices.IndexFunc(o.Machine.Slides, func(sl slide.Slide) bool { return sl.Name == name })
		if sl := &o.Machine.Slides[i]; sl.Clockwise.String() != v {
			// The hand's last way stays with it, so that the slide does not move by its play.
			sl.Clockwise, sl.TakeUp = -sl.Clockwise, -sl.TakeUp
		}
	}},
	{key: "setup.touch", all: true, value: func(o *Opened, _ string) (string, bool) { return o.Job.Setup.Touch.String(), true },
		check: checkText[indicator.Touch], put: func(o *Opened, _, v string, bezel float64) {
			// What the bezel was turned by shifts the reach, the other way round in a bore than round a boss.
			x := o.Job.Setup.Rezeroed(o.Job.Dial, -bezel)
			_ = x.Touch.UnmarshalText([]byte(v))
			o.Job.Setup = x.Rezeroed(o.Job.Dial, bezel)
		}},
	{key: "head.sense", all: true, value: func(o *Opened, _ string) (string, bool) { return o.Machine.Head.Figures.String(), true },
		check: checkText[slide.Turn], put: func(o *Opened, _, v string, _ float64) {
			_ = o.Machine.Head.Figures.UnmarshalText([]byte(v))
		}},
	{key: "table.sense", all: true, value: func(o *Opened, _ string) (string, bool) { return o.Machine.Table.Figures.String(), true },
		check: checkText[slide.Turn], put: func(o *Opened, _, v string, _ float64) {
			_ = o.Machine.Table.Figures.UnmarshalText([]byte(v))
		}},
	{key: "head.zero", all: true, value: func(o *Opened, _ string) (string, bool) { return degreesText(o.Machine.Head.Zero), true },
		check: checkDegrees, put: func(o *Opened, _, v string, _ float64) { o.Machine.Head.Zero = degreesOf(v) }},
	{key: "table.zero", all: true, value: func(o *Opened, _ string) (string, bool) { return degreesText(o.Machine.Table.Zero), true },
		check: checkDegrees, put: func(o *Opened, _, v string, _ float64) { o.Machine.Table.Zero = degreesOf(v) }},
}

// checkText refuses what is no word of a kind.
func checkText[T any, P interface {
	*T
	UnmarshalText([]byte) error
}](v string) error {
	var x T
	return P(&x).UnmarshalText([]byte(v))
}

// degreesText is a bearing in degrees, as files have it.
func degreesText(b geom.Bearing) string {
	return strconv.FormatFloat(math.Round(b.Degrees()*1e6)/1e6, 'f', -1, 64)
}

func degreesOf(v string) geom.Bearing {
	d, _ := strconv.ParseFloat(v, 64)
	return geom.Bearing(d) * geom.Degree
}

func checkDegrees(v string) error {
	if d, err := strconv.ParseFloat(v, 64); err != nil || math.IsNaN(d) || math.Abs(d) > 360 {
		return fmt.Errorf("%q, need degrees from -360 to 360", v)
	}
	return nil
}

// statementOf is the row of a key, with the slide that it names.
func statementOf(key string) (st *statement, name string, ok bool) {
	for i := range statements {
		before, after, star := strings.Cut(statements[i].key, "*")
		if !star && key == statements[i].key {
			return &statements[i], "", true
		}
		if star && len(key) > len(before)+len(after) && strings.HasPrefix(key, before) && strings.HasSuffix(key, after) {
			return &statements[i], key[len(before) : len(key)-len(after)], true
		}
	}
	return nil, "", false
}

// keyOf is the row's key for a slide.
func (st *statement) keyOf(name string) string { return strings.Replace(st.key, "*", name, 1) }

// parts are the keys of a cause, and what each is said to be.
func (c *Cause) parts() (keys, is []string) {
	if c.Key == "" {
		return nil, nil
	}
	return strings.Split(c.Key, ","), strings.Split(c.Is, ",")
}

// check refuses a cause whose keys nobody can put right.
func (c *Cause) check() error {
	keys, is := c.parts()
	if len(keys) == 0 || len(keys) != len(is) {
		return fmt.Errorf("key %q with %q, need as many of the one as of the other", c.Key, c.Is)
	}
	for i, k := range keys {
		st, _, ok := statementOf(k)
		if !ok {
			return fmt.Errorf("key %q, need one that can be put right", k)
		}
		if err := st.check(is[i]); err != nil {
			return fmt.Errorf("%s: %w", k, err)
		}
	}
	return nil
}

// restatedSet is the setting with a cause put right, a copy of its own; ok is false where it has none of that.
func (s *State) restatedSet(c *Cause) (set *Opened, ok bool) {
	if c.check() != nil {
		return nil, false
	}
	o := *s.Set
	o.Machine.Slides = slices.Clone(o.Machine.Slides)
	keys, is := c.parts()
	for i, k := range keys {
		st, name, _ := statementOf(k)
		if _, has := st.value(&o, name); !has {
			return nil, false
		}
		st.put(&o, name, is[i], s.Bezel)
	}
	return &o, true
}

// slidesOf are the slides whose winds taught something else than was believed where a cause is put right; all says that every one did.
func (c *Cause) slidesOf() (names []string, all bool) {
	keys, _ := c.parts()
	for _, k := range keys {
		if st, name, ok := statementOf(k); ok {
			names, all = append(names, name), all || st.all
		}
	}
	return names, all
}

// cause gives a suspect its keys, and what they are and would have to be.
func (s *State) cause(x advice.Suspect) Cause {
	c := Cause{Fault: x.Fault, Slides: x.Slides}
	ring := s.SetUp().Swung
	switch x.Fault {
	case advice.ScrewFault:
		for _, n := range x.Slides {
			sl, _ := s.Set.Machine.Slide(n)
			c.add("slide."+n+".clockwise", sl.Clockwise.String(), (-sl.Clockwise).String())
		}
	case advice.TouchFault:
		t := s.Set.Job.Setup.Touch
		c.add("setup.touch", t.String(), (indicator.Bore + indicator.Boss - t).String())
	case advice.RingFault:
		f := s.Ring().Figures
		c.add(ring+".sense", f.String(), (-f).String())
	case advice.ZeroFault:
		// The winds are seen turned by as much as the places of the stations are told turned back. A table's zero turns what
		// lies on it, which is met the other way.
		by := -x.Turn
		if s.SetUp().Under().Table {
			by = x.Turn
		}
		zero := s.Ring().Zero
		c.Turn = x.Turn.Degrees()
		c.add(ring+".zero", degreesText(zero), degreesText(geom.Bearing(math.Remainder(float64(zero+by), 2*math.Pi))))
	case advice.ExchangeFault, advice.UnmovedFault, advice.DialFault: // which no file says
	case advice.NoFault, advice.EitherFault, advice.BearingsFault: // told apart where they come from
	}
	return c
}

func (c *Cause) add(key, was, is string) {
	if c.Key != "" {
		key, was, is = c.Key+","+key, c.Was+","+was, c.Is+","+is
	}
	c.Key, c.Was, c.Is = key, was, is
}
