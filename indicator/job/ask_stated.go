package job

import (
	"maps"
	"math"
	"slices"
	"strconv"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/setup"
)

// statements are what is known of a job without being asked: what a file states, of which the questions only fill in the rest.
type statements struct {
	base *Draft // nil where everything is asked
	said map[string]Given
	// open are the keys of the file that cannot serve, of which those in first were so from the beginning; missing are the keys
	// without which there is no job. Neither is changed in place.
	first, open, missing []string
	mend                 *mending // a machine's file that is put right; nil for none
}

// Questions ask for what a file leaves open, or says so that it cannot serve the arc that it is for: the needle would be off the
// dial at the target. All else that it states is taken as answered, and what it leaves out at will stays left out. The error is
// what is wrong in the file: an *[Error], or [Errors], and nothing can be asked.
func (d *Draft) Questions(f Facts) (Asking, error) {
	q := JobQuestions(f)
	a := &q.given
	a.base, a.said, a.Unit = d, d.raw.stated(), d.Unit
	if f.Arc != nil && q.unserved() {
		a.first = slices.Clone(ofReference)
	}
	if f.AsksReach {
		a.first = append(a.first, ofSeat...)
	}
	q.reopen()
	err := q.form.read(a, q.Text())
	for _, e := range all(err) {
		if !a.leaves(e.Key) && !slices.Contains(a.missing, lacks(a, e.Key)) {
			return q, err
		}
	}
	return q, nil
}

// Draft is the job as far as it is stated and answered.
func (q Asking) Draft() *Draft { return q.given.draft(q.Text()) }

// ofReference is what is asked anew where what a file states cannot serve an arc: another reach, or another reference.
var ofReference = []string{"setup.touch", "setup.reference_radius", "setup.reference_radius_error", "setup.reference_form_error",
	"setup.reach", "setup.reach_error"}

// ofSeat is what holds only as long as the indicator sits as it does.
var ofSeat = []string{"setup.reach", "setup.reach_error"}

// unserved reports whether the reach that a file states would put the needle off the dial at the target.
func (q Asking) unserved() bool {
	const key = "setup.reach"
	if q.given.own(key) != nil || q.given.stated(key) == nil {
		return false
	}
	return slices.ContainsFunc(all(q.form.read(&q.given, q.Text())), func(e *Error) bool { return e.Key == key })
}

// reopen finds what is to be asked beside what a file states, after the answers so far.
func (q *Asking) reopen() {
	a := &q.given
	if a.base == nil {
		return
	}
	a.open, a.missing = a.first, nil
	if len(a.all) > 0 && q.unserved() {
		a.open = ofReference
		if a.own("setup.touch") != nil || a.own("setup.reference_radius") != nil { // then the reference is as it was answered
			a.open = ofSeat
		}
	}
	rows := q.form.rows(a)
	for _, e := range all(q.form.read(a, q.Text())) {
		key := lacks(a, e.Key)
		if a.of(key) == nil && !a.leaves(key) && slices.ContainsFunc(rows, func(p placed) bool { return p.path() == key }) {
			a.missing = append(a.missing, key)
		}
	}
	if key := ofSeat[0]; a.AsksReach && byReach(a, "") && a.of(key) == nil && !a.leaves(key) && !slices.Contains(a.missing, key) {
		a.missing = append(a.missing, key)
	}
}

// lacks is the key that is missing where something is wrong with one: a tolerance alone, as a job for a drawing's arcs has it, wants
// the swing radius that it is for.
func lacks(a *answers, key string) string {
	if key == "target.tolerance" && a.of(key) != nil && a.of("target.swing_radius") == nil {
		return "target.swing_radius"
	}
	return key
}

// wants reports whether a row that may be asked is: where a file states the rest, what is missing, and what goes with it.
func (a *answers) wants(p placed) bool {
	switch {
	case a.leaves(p.path()):
		return false
	case a.mend != nil:
		return a.mend.wants(a, p.path())
	case a.base == nil:
		return true
	}
	return p.besides || a.asks(p.path()) || p.with != "" && a.asks(p.with)
}

// asks reports whether a key beside what a file states is answered, or to be.
func (a *answers) asks(key string) bool { return a.own(key) != nil || slices.Contains(a.missing, key) }

// leaves reports whether a key is left to the arc, which is not chosen yet.
func (a *answers) leaves(key string) bool {
	return a.Drawing && a.Arc == nil && slices.ContainsFunc(jobForm.rows(a), func(p placed) bool { return p.ofArc && p.path() == key })
}

// anyArc stands for the arc that is not chosen yet: what the arcs share does not lean on its figures, which are far apart.
var anyArc = Figures{Swing: 100, Cutter: 1, Metal: "inside"}

// arc is the arc that the job is for; nil for none.
func (a *answers) arc() *Figures {
	if a.Drawing && a.Arc == nil {
		return &anyArc
	}
	return a.Arc
}

// stated is what the arc, or a file, states under a key; nil for nothing.
func (a *answers) stated(key string) *Given {
	if f := a.arc(); f != nil {
		number := func(mm float64) *Given {
			v := decimal(a.unit().From(mm))
			return &Given{Key: key, Typed: v, toml: v}
		}
		switch {
		case key == "target.swing_radius":
			return number(f.Swing)
		case key == "cut.cutter" && f.Metal != "":
			return number(f.Cutter)
		case key == "cut.metal" && f.Metal != "":
			return &Given{Key: key, Typed: f.Metal, toml: quote(f.Metal)}
		case tableOf(key) == "cut" && f.Metal == "": // the cutter leaves metal on no one side
			return &Given{Key: key, Typed: Unknown}
		}
	}
	if g, ok := a.said[key]; ok && !slices.Contains(a.open, key) {
		return &g
	}
	return nil
}

// lately is what the setting before has under a key, else a file that cannot serve, as a file in the unit that is answered has it;
// empty for nothing.
func (a *answers) lately(key string) string {
	was := a.said[key].toml
	if a.Last != nil {
		was = rawOf(a.Last, a.unit()).stated()[key].toml
	}
	if was == "" && a.Reach != nil {
		was = a.cutReach(key)
	}
	return was
}

// cutReach is what the trial cut of the setting before showed, under the keys of the reach; empty under others.
func (a *answers) cutReach(key string) string {
	places := micron[a.unit()]
	switch key {
	case "setup.reach":
		v, _ := strconv.ParseFloat(strconv.FormatFloat(a.unit().From(a.Reach.V), 'f', places, 64), 64)
		return decimal(v)
	case "setup.reach_error":
		up := math.Pow10(places)
		return decimal(math.Ceil(up*a.unit().From(a.Reach.U)) / up)
	}
	return ""
}

// micron is to how many places a figure is told to a micrometre, or to what is near it.
var micron = [...]int{geom.Millimetre: 3, geom.Inch: 5}

// latelyNumber is lately of a number.
func (a *answers) latelyNumber(key string) (v float64, ok bool) {
	v, err := strconv.ParseFloat(a.lately(key), 64)
	return v, err == nil
}

// draft is the job as it is stated and answered; text is what is answered.
func (a *answers) draft(text []byte) *Draft {
	d := &Draft{file: file{name: "the answers"}}
	if a.base != nil {
		*d = *a.base
	}
	d.file.bad, d.file.lines, d.file.wrong = maps.Clone(d.file.bad), maps.Clone(d.file.lines), slices.Clip(d.file.wrong)
	if d.file.bad == nil {
		d.file.bad = map[string]bool{}
	}
	var own rawJob
	if f, err := decode(d.file.name, text, &own); err != nil {
		d.file.wrong = append(d.file.wrong, all(err)...)
	} else if a.base == nil {
		d.file.lines = f.lines
	}
	for _, key := range a.open {
		delete(d.file.lines, key)
	}
	d.raw = *d.raw.with(&own, a.open)
	if g := a.own("setup.reach"); g != nil && g.Typed == Unknown && d.raw.Cut == nil { // the arc brings its cut: it shows the radius
		d.raw.Cut = &rawCut{}
	}
	d.settle()
	return d
}

// job is the job as far as it is stated and answered, with what is wrong or missing in it.
func (a *answers) job(text []byte) (setup.Job, error) { return a.draft(text).read(a.arc()) }

// Shared is the part of a setting's job that all arcs of a drawing have in common, but for its tolerances, which are asked with the
// setting's for defaults.
func Shared(j *setup.Job) *Draft {
	d := &Draft{file: file{name: "the setting before", bad: map[string]bool{}}}
	without := []string{"target.tolerance", "target.centre_tolerance", "target.centre_at"}
	for _, t := range jobAsks {
		for _, r := range t.rows {
			if p := (placed{&r, t.table}); p.ofArc {
				without = append(without, p.path())
			}
		}
	}
	d.raw = *rawOf(j, j.Unit).with(&rawJob{}, without)
	d.settle()
	return d
}
