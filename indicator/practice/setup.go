package practice

import (
	"fmt"
	"strings"
)

// Setup is which simulated machine: the head that is swung, the table that is turned, with slides on it or with the
// work tapped into place, readouts and a circle to touch, the spindle that is carried off a table's axis, or an arc whose centre stands
// away from what is swept.
type Setup int

// The set-ups.
const (
	Carried Setup = iota
	Turned
	Points
	Taps
	SetOff
	About
	AboutTable

	setupsInAll
)

// setups are the set-ups by their number.
var setups = [setupsInAll]setupRow{
	Carried: {word: "carried", job: BenchJob, machine: BenchMachine, bench: Bench, wide: true},
	Turned: {word: "turned", told: ", rotary table", job: TableJob, machine: TableMachine, bench: BenchTable, wide: true,
		draws: func(o *Options) { o.Turned = true }},
	Points: {word: "points", told: ", readouts, circle touched", job: PointsJob, machine: PointsMachine, bench: BenchPoints, touches: true,
		draws: func(o *Options) { o.Points = true }},
	Taps: {word: "taps", told: ", rotary table, work tapped", job: TableJob, machine: TapsMachine, bench: BenchTaps,
		draws: func(o *Options) { o.Turned, o.Taps = true, true }},
	SetOff: {word: "set-off", told: ", set off a table's axis", job: SetOffJob, machine: SetOffMachine, bench: BenchSetOff,
		draws: func(o *Options) { o.SetOff = true }},
	About: {word: "about", told: ", arc about no hole", job: AboutJob, machine: AboutMachine, bench: BenchAbout,
		draws: func(o *Options) { o.About = true }},
	AboutTable: {word: "about-table", told: ", rotary table, arc about no hole", job: AboutTableJob, machine: AboutTableMachine,
		bench: BenchAboutTable, draws: func(o *Options) { o.About, o.Turned = true, true }},
}

// setupRow is one set-up: the word it is asked for by and what a summary tells of it, the files and the true machine of
// its bench, and what its machines are drawn with.
type setupRow struct {
	word, told   string
	job, machine []byte
	bench        func(seed uint64) World
	draws        func(*Options) // nil where there is nothing to say
	touches      bool           // a circle is touched, and no dial is read
	wide         bool           // they are drawn coarse, clamped and for several settings too, and the two-point hand sets them
}

// Setups are all of them.
func Setups() (all []Setup) {
	for s := range setupsInAll {
		all = append(all, s)
	}
	return all
}

// ParseSetup reads the word of a set-up.
func ParseSetup(text string) (Setup, error) {
	var words []string
	for _, s := range Setups() {
		if s.String() == text {
			return s, nil
		}
		words = append(words, s.String())
	}
	last := len(words) - 1
	return 0, fmt.Errorf("%q, need %s or %s", text, strings.Join(words[:last], ", "), words[last])
}

func (s Setup) String() string { return setups[s].word }

// Told is how a summary tells the set-up, behind the hand; empty of the head that is swung.
func (s Setup) Told() string { return setups[s].told }

// Files are the job and the machine of the set-up's bench, as a person would write them.
func (s Setup) Files() (job, machine []byte) { return setups[s].job, setups[s].machine }

// Bench draws the set-up's bench.
func (s Setup) Bench(seed uint64) World { return setups[s].bench(seed) }

// Dial reports whether the set-up's machines have a dial.
func (s Setup) Dial() bool { return !setups[s].touches }

// Wide reports whether the set-up's machines are drawn coarse, clamped and for several settings too, and set by the
// two-point hand.
func (s Setup) Wide() bool { return setups[s].wide }

// Draws says in the options that machines of this set-up are drawn.
func (s Setup) Draws(o Options) Options {
	if d := setups[s].draws; d != nil {
		d(&o)
	}
	return o
}
