package job

import (
	"fmt"
	"math"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/setup"
)

// The words for what the figures do as the tip is pressed.
const (
	pressedGrows = "grows"
	pressedFalls = "falls"
)

// pressed reads what the dial's figures do as its tip is pressed.
func (f *file) pressed(word *string, j *setup.Job) {
	switch {
	case word == nil:
	case *word == pressedFalls:
		j.Dial.Falls = true
	case *word != pressedGrows:
		f.fail("dial.pressed", "press the tip a little with a finger, and look: do the figures grow, or fall?", "%q, need %s or %s", *word,
			pressedGrows, pressedFalls)
	}
}

// The readings of one place that a repeatability may be found from: two tell something, and nobody takes more than a hundred.
const (
	fewestRepeats = 2
	mostRepeats   = 100
)

// repeats reads from how many readings of one place the repeatability was found: so many less one are its degrees of freedom.
func (f *file) repeats(raw *rawJob, j *setup.Job) {
	d := &raw.Dial
	if d.Repeats == nil {
		return
	}
	const key = "dial.repeatability_readings"
	if d.Repeatability == nil && f.fine("dial.repeatability") {
		f.fail(key, fmt.Sprintf("leave it out, and a repeatability that is stated is taken as one from %d", indicator.RepeatDof+1),
			"given without repeatability, need both")
		return
	}
	j.Dial.Repeats = int(f.number(key, d.Repeats, 0, func(x float64) bool {
		return x == math.Trunc(x) && x >= fewestRepeats && x <= mostRepeats
	}, fmt.Sprintf("a whole number from %d to %d", fewestRepeats, mostRepeats)))
}
