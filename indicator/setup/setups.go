package setup

import (
	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/slide"
)

// SetUp is how a setting is made: a ground that is swept or touched, and a mover that brings it in.
type SetUp struct {
	Ground
	Mover
	Words
	// Is says whether files and journals mean it by a job, where they mean none of the rows before it; the parser's words for
	// it end here.
	Is func(*Job) bool
	// Example is a job of its own, by which a test sees that the rows before it leave it one.
	Example Job
}

// All are the set-ups, the special ones before those that they are a kind of: the first that is meant is the job's, so a row
// needs to know nothing of its neighbours. A new one is a row here.
var All = []*SetUp{&setOff, &carriedAbout, &carried, &taps, &turnedAbout, &turned, &points}

// Of returns the set-up of a job.
func Of(j *Job) *SetUp {
	for _, u := range All {
		if u.Is(j) {
			return u
		}
	}
	return &carried // a journal may hold anything
}

// Ground is how a sweep is made: what a station is answered with, and what the answers say of the circle. All is asked on
// plain values: of the bench's round where nothing else is said.
type Ground interface {
	// Under are the plain facts of it.
	Under() GroundFacts
	// Fit fits the circle to entries, with the job's setup as it stands.
	Fit(of *Job, as indicator.Setup, all Entries) (indicator.Estimate, error)
	// Seen are the bearings and figures that f was fitted to: readings, or distances from the centre.
	Seen(b *Bench, f *indicator.Estimate) (bearings []geom.Bearing, figures []float64)
	// Entered compares a new entry with the others, and with what was expected there.
	Entered(j *Job, others Entries, e Entry, x Expected) Judged
	// Suspects are the entries that do not fit the others, by their place in the round.
	Suspects(b *Bench, f *indicator.Estimate) []indicator.Outlier
	// Doubted is the entry to look at again, if there is one that is not settled.
	Doubted(b *Bench, f *indicator.Estimate, settled func(i int) bool) (d Doubt, ok bool)
	// Form is what the round shows of the reference's form; f is its fit where that is known, else nil.
	Form(b *Bench, f *indicator.Estimate) (indicator.Roundness, error)
}

// GroundFacts are the plain facts of a ground.
type GroundFacts struct {
	// Pair says that a station is answered with the two coordinates at which the circle was touched, else it is with what a
	// needle shows.
	Pair bool
	// Table says that a table is turned under the indicator, by its own ring; else the head is swung, by the head's.
	Table bool
	// Cross are the slides that move the work, or the spindle over it.
	Cross [2]string
}

// Mover is how the centre, and the radius, are brought in: what is wound and how that is taken.
type Mover interface {
	// Does are the plain facts of it.
	Does() MoverFacts
	// Needs are the slides that it winds for a job, in their order: cross slides first, the offset slide last.
	Needs(j *Job) []string
	// Next says what comes behind the closed sweep, which is fitted as f, and the winds since.
	Next(b *Bench, f *indicator.Estimate) Next
	// After is what is known of the circle after a wind, with the cross slides where c has them; ok is false for a wind
	// that says nothing of it.
	After(b *Bench, f indicator.Estimate, d *Done, c *advice.Cross) (g indicator.Estimate, ok bool)
	// GoesTo says that a wind sends its slide to a coordinate, and may be answered with the one where it stands.
	GoesTo(b *Bench, w *Wind) bool
	// Wound takes in a wind that belongs to no trial; ok is false for all others.
	Wound(b *Bench, w *Wind, at *float64) (o Offs, ok bool)
	// Back is the wind with which a sweep that begins anew begins.
	Back(b *Bench) (w Wind, ok bool)
	// Verdicts is what is proven of where things stand now, where the sweep was fitted as f, Assumed on which figures that leans
	// that nobody has stated, and Room what it leaves for them.
	Verdicts(b *Bench, f *indicator.Estimate) indicator.Verdicts
	Assumed(b *Bench, f *indicator.Estimate) indicator.Assumed
	Room(b *Bench, f *indicator.Estimate) indicator.Room
	// Swing is the swing radius that stands, and RadiusSlide the slide that sets it, and what its coordinate does as the radius
	// grows.
	Swing(b *Bench, f *indicator.Estimate) (r Swing, ok bool)
	RadiusSlide(b *Bench) (sl slide.Slide, way slide.Way, ok bool)
	// Standing is the circle, swept as f, as it is seen from where the spindle stands now: its centre error is how far there
	// is still to go. ok is false where that is not known. Goal is where the readouts show the centre, nil where none does.
	Standing(b *Bench, f *indicator.Estimate) (g indicator.Estimate, ok bool)
	Goal(b *Bench) *geom.Point
	// Away is what is known of where the axis stands once slides have carried it on from what was swept, by a way that a
	// drawing states; ok is false where none have.
	Away(b *Bench, f *indicator.Estimate) (a Away, ok bool)
}

// Swing is a swing radius as it stands. Axis and Travel are the expanded uncertainties that make its own where a slide has set
// it Off the axis: of where that lies along the slide, and of how far the slide has gone.
type Swing struct {
	indicator.Value
	Off          bool
	Axis, Travel float64
}

// MoverFacts are the plain facts of a mover.
type MoverFacts struct {
	// Slides says that slides carry the work or the spindle over it; else no handwheel does.
	Slides bool
	// Loads says that every slide is loaded before the first sweep.
	Loads bool
	// Teaches says that the next sweep shows what a wind has done; Plain that it did so as handwheel and statements say.
	Teaches, Plain bool
	// Stands says that what it tells goes by where the spindle is thought to stand.
	Stands bool
	// Cuts says that a cut follows the accepted setting.
	Cuts bool
	// Turns says that the spindle stands over the axis and carries the indicator round: it is not locked to a head.
	Turns bool
	// Off says that a slide sets the swing radius off the axis: no sweep shows it.
	Off bool
	// Away says that slides carry the axis on from what is swept to the arc's centre, about which there is nothing to sweep.
	Away bool
}

// Words are what a set-up is called, and the steps before its first reading.
type Words struct {
	// Name is the word of files.
	Name string
	// Swung is what is swung or turned.
	Swung string
	// Off is what is told of the winds that carry the axis off the place of the sweep, where there are any.
	Off OffWords
	// Steps are the things to do before the first reading, in the order of the bench.
	Steps func(p *Phrases) []string
}

// OffWords are what the winds do that carry the axis off the place of the sweep, and what it stands over there; Counted says
// that they are more than one.
type OffWords struct {
	Out, Over string
	Counted   bool
}

// Phrases are the figures of a set-up as they are told.
type Phrases struct {
	Press, TurningPoint, Indicator, Tip, Touching, RadiusSlide string
	// Reached are the slides whose handwheels can be reached at one table angle only, and that.
	Reached [][2]string
}
