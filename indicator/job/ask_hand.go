package job

import (
	"cmp"
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// Hand are the references at hand that the tip may touch. Lengths are in the question's unit.
type Hand struct {
	What string // ring or plug
	// Reach is the one found for the setting before; nil where there was none, or the tip faced the other way.
	Reach *float64
	All   []AtHand // the one first that needs the least change of the reach, or, without one, the smallest reach
}

// AtHand is one of them.
type AtHand struct {
	Diameter float64
	ZeroAt   float64  // the reach with which the dial reads zero on it at the target
	Reads    *float64 // what it reads there with the reach as it is; nil where that is not on the dial
}

// Rings and Plugs are what is touched from inside and from outside, and Cutters what a plan chooses of; they are the keys that they
// are asked for by, and kept under in the settings.
const (
	Rings   = "rings"
	Plugs   = "plugs"
	Cutters = "cutters"
)

// noneAtHand is the answer of whoever has none.
const noneAtHand = "none"

var handAsks = []asks{handRow(Rings, indicator.Bore), handRow(Plugs, indicator.Boss)}

// cutterAsks ask for the cutters at hand, without which a plan has no swing radius: it has to be said that there are none to say.
var cutterAsks = []asks{{key: Cutters, kind: sizes{}, optional: always, besides: true, said: true,
	when: func(a *answers, _ string) bool {
		_, said := a.AtHand[Cutters]
		return a.Drawing && a.Arc == nil && !said
	},
	text: says("the diameters of the cutters at hand, for all plans to come (like 10 6, or 10+6)"),
	help: "The plan takes for each arc one of them that can cut it: its swing radius is the arc's radius and half the cutter, or less\n" +
		"half of it. They are kept in the settings' file, where they can be changed, and not asked for again; " +
		Unknown + " keeps nothing."}}

// cuttersForm asks for the cutters of a plan that is shown already.
var cuttersForm = form{
	name: "cutters",
	rows: func(*answers) []placed { return []placed{{&cuttersAsk, ""}} },
	read: func(*answers, []byte) error { return nil },
}

var cuttersAsk = asks{key: Cutters, kind: sizes{},
	text: says("the diameters of the cutters at hand, for this plan (like 10 6, or 10+6)"),
	help: "The plan is made anew with these in the place of all that were named before. They are kept in the settings' file where that names\n" +
		"none yet."}

// CutterQuestions ask for the cutters of a plan anew.
func CutterQuestions(u geom.Unit) Asking {
	return Asking{form: &cuttersForm, given: answers{Facts: Facts{Unit: u}}}
}

// handRow asks for the references at hand for a touch, where nobody has said yet.
func handRow(key string, touch indicator.Touch) asks {
	return asks{key: key, ofArc: true, with: "setup.reference_radius", kind: sizes{}, optional: always, def: says(noneAtHand),
		when: func(a *answers, _ string) bool {
			_, said := a.AtHand[key]
			return a.Arc != nil && !said && a.word("setup.touch") == touch.String() && byReach(a, "")
		},
		text: says("the diameters of the setting " + key + " at hand, for all jobs to come (like 60 40 25, or 60+40+25)"),
		help: "With them each arc is told which of them makes the dial read about zero at its target, where the errors of lever and\n" +
			"scale vanish. They are kept in the settings' file, where they can be changed, and not asked for again; " +
			Unknown + " keeps nothing."}
}

// sizes are diameters.
type sizes struct{}

func (sizes) describe(a *answers, q *Question) {
	q.Unit = inUnit(a)
	q.Fraction = inFractions(q)
}

func (sizes) read(_ *answers, q *Question, text string) (meant, error) {
	if strings.EqualFold(text, noneAtHand) && q.Key != Cutters {
		return meant{said: noneAtHand}, nil
	}
	var all []string
	words := strings.Fields(strings.NewReplacer(", ", " ", ";", " ", "+", " ").Replace(text))
	if err := oneOrTwo(words); err != nil {
		return meant{}, err
	}
	for _, word := range words {
		v, err := figure(q, word)
		if err == nil && !(v > 0) {
			err = unfit(how(q), "%v, need diameters above 0, like 10 6", word)
		}
		if err != nil {
			return meant{}, err
		}
		all = append(all, decimal(v))
	}
	return meant{said: strings.Join(all, " ")}, nil
}

// hand are the diameters at hand of a kind, millimetres; ok is false where nobody has said.
func (a *answers) hand(key string) (mm []float64, ok bool) {
	if g := a.own(key); g != nil && g.Typed != Unknown {
		for _, word := range strings.Fields(g.Typed) {
			if v, err := strconv.ParseFloat(word, 64); err == nil {
				mm = append(mm, a.unit().MM(v))
			}
		}
		return mm, true
	}
	mm, ok = a.AtHand[key]
	return mm, ok
}

// HandSaid are the diameters at hand that were answered under a key, in millimetres; ok is false where none were.
func (q Asking) HandSaid(key string) (mm []float64, ok bool) {
	if g := q.given.own(key); g == nil || g.Typed == Unknown {
		return nil, false
	}
	return q.given.hand(key)
}

// found is the reach of the setting before, millimetres; ok is false where there is none, or the tip faced the other way.
func (a *answers) found() (mm float64, ok bool) {
	v, ok := a.latelyNumber("setup.reach")
	touch := strconv.Quote(a.word("setup.touch"))
	was := a.lately("setup.touch")
	return a.unit().MM(v), ok && (was == touch || was == "" && a.Reach != nil)
}

// atHand says what the dial shows on the references at hand.
func atHand(a *answers) *Hand {
	j, _ := a.job(a.text(jobHead))
	what, key := "ring", Rings
	if j.Setup.Touch == indicator.Boss {
		what, key = "plug", Plugs
	}
	sizes, _ := a.hand(key)
	if len(sizes) == 0 || !(j.Target.SwingRadius > 0) || !byReach(a, "") {
		return nil
	}
	h := &Hand{What: what}
	reach, known := a.found()
	if known {
		v := a.unit().From(reach)
		h.Reach = &v
	}
	var radii []float64
	for _, d := range sizes {
		radii = append(radii, d/2)
	}
	all, _ := j.Dial.Gauges(j.Setup.Touch, j.Target.SwingRadius, reach, radii)
	slices.SortStableFunc(all, func(x, y indicator.Gauge) int {
		return cmp.Compare(math.Abs(x.Reach-reach), math.Abs(y.Reach-reach)) // of 0 where none is known
	})
	for _, g := range all {
		one := AtHand{Diameter: a.unit().From(2 * g.Radius), ZeroAt: a.unit().From(g.Reach)}
		if known && !g.Off && j.Target.SwingRadius+reach > 0 {
			reads := a.unit().From(g.Reading)
			one.Reads = &reads
		}
		h.All = append(h.All, one)
	}
	return h
}

// bestAtHand is the radius of the reference at hand that the reach can stay as it is for; empty for none.
func bestAtHand(a *answers, _ string) string {
	if h := atHand(a); h != nil && h.All[0].Reads != nil && surfaceOf(a.typed("setup.touch")).atHand != "" {
		return halfOf(h.All[0].Diameter)
	}
	return ""
}

// noneBetter says that what was touched for the setting before is of the kind that is touched now, and that no reference at hand
// spares setting the reach anew, which that one would not.
func noneBetter(a *answers, in string) bool {
	rho, ok := a.latelyNumber("setup.reference_radius")
	return sameKind(a) && (bestAtHand(a, in) == "" || ok && a.serves(a.unit().MM(rho)))
}

// serves reports whether the reach found before brings the needle onto the dial at the target, on a reference of a radius in
// millimetres.
func (a *answers) serves(rho float64) bool {
	reach, ok := a.found()
	j, _ := a.job(a.text(jobHead))
	if !ok || !(j.Target.SwingRadius+reach > 0) {
		return false
	}
	all, _ := j.Dial.Gauges(j.Setup.Touch, j.Target.SwingRadius, reach, []float64{rho})
	return !all[0].Off
}

// reachServes says that the reach found before can be gone on with.
func reachServes(a *answers, _ string) bool {
	rho, ok := a.number("setup.reference_radius")
	return ok && a.serves(a.unit().MM(rho))
}

// sameReference says that what is touched is what was touched for the setting before, and is known as well as then.
func sameReference(a *answers, _ string) bool {
	was, ok := a.latelyNumber("setup.reference_radius")
	is, answered := a.number("setup.reference_radius")
	return ok && answered && was == is && a.lately("setup.touch") == strconv.Quote(a.word("setup.touch"))
}

// sameReach says the same of the reach.
func sameReach(a *answers, _ string) bool {
	was, ok := a.latelyNumber("setup.reach")
	is, answered := a.number("setup.reach")
	return ok && answered && was == is
}

// sameSeat says that the indicator is taken to sit as it did, with the reach as it was: from arc to arc of a drawing, and behind a trial
// cut that showed it.
func sameSeat(a *answers, in string) bool { return (a.Drawing || a.Reach != nil) && sameReach(a, in) }

// reachUsually is how a reach is usually known: one that was found for a setting before has to be said to be untouched, or not.
func reachUsually(a *answers, in string) string {
	if sameReach(a, in) {
		return ""
	}
	return dontKnow
}

// keepKey is no file's: under which name the answers are kept.
const keepKey = "keep_as"

var keepAsks = []asks{{key: keepKey, kind: aside{}, optional: always, out: "not kept", check: jobNameFits,
	when: func(a *answers, _ string) bool { return a.Keep },
	text: says("under which name these answers are to be kept, for jobs to come"),
	help: "Letters, digits, spaces, - and _. The job is then offered by that name. Its reach is not kept: it\n" +
		"belongs to how the indicator is seated, and is asked each time."}}

// aside is a text that no file has.
type aside struct{}

func (aside) describe(*answers, *Question) {}

func (aside) read(*answers, *Question, string) (meant, error) { return meant{}, nil }

// jobNameFits refuses a name that is no good as a file's, or that is taken.
func jobNameFits(a *answers, _ string, g *Given) error {
	err := NameFits(g.Typed, nil)
	if err == nil && NameFits(g.Typed, a.Taken) != nil {
		return unfit("choose another, or "+Unknown, "a job %q is there already, need a name of its own", g.Typed)
	}
	var u *Unfit
	if errors.As(err, &u) {
		u.Advice = "like tensioner or rim-2"
	}
	return err
}

// keptHead is the first line of a job that is kept.
const keptHead = jobHead + " The reach is not kept: it belongs to how the indicator is seated, and is asked each time."

// ToKeep is the file as far as it holds for jobs to come: without the reach.
func (q Asking) ToKeep() []byte {
	a := q.given
	a.all = slices.Clone(a.all)
	for i := range a.all {
		if g := &a.all[i]; slices.Contains(ofSeat, g.Key) {
			g.toml = ""
		}
		a.all[i].also = slices.DeleteFunc(slices.Clone(a.all[i].also), func(w written) bool { return slices.Contains(ofSeat, w.key) })
	}
	return a.text(keptHead)
}

// KeepAs is the name that the answers are to be kept under; empty for none.
func (q Asking) KeepAs() string {
	if g := q.given.own(keepKey); g != nil && g.Typed != Unknown {
		return g.Typed
	}
	return ""
}
