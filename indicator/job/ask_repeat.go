package job

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/trammel/indicator/setup"
)

// repeatReadings is how often one place is read for a repeatability: their standard deviation has four degrees of freedom, and is as
// likely as not within a third of the true one (common practice, no source).
const repeatReadings = 5

// pressedAsk is which way the dial's figures go, by one press.
var pressedAsk = asks{key: "pressed", kind: words(pressedGrows, pressedFalls), when: swept, def: says(pressedGrows),
	text: says("press the dial's tip a little with a finger: do its figures grow, or fall"),
	help: "A dial with red and black figures, or one that is turned over, may count down. Its figures are typed, and told, as it\n" +
		"shows them, either way; what they mean is turned round here."}

// repeatAsks find how well the dial repeats.
var repeatAsks = func() (out []asks) {
	for n := range repeatReadings {
		out = append(out, asks{key: readingKey(n), kind: dialReading, aside: true, check: dialShows, when: findsRepeat,
			text: func(a *answers, _ string) string { return readingText(a, n) }, help: repeatHelp})
	}
	for n := range repeatReadings {
		out = append(out, asks{key: readingKey(n) + "_again", kind: dialReading, aside: true, check: dialShows,
			when: func(a *answers, _ string) bool { return a.apart(n) > 0 },
			text: func(a *answers, _ string) string { return apartText(a, n) }, help: repeatHelp})
	}
	out = append(out, asks{key: "repeatability_found", kind: repeatTaken, when: findsRepeat, def: says(takeIt), text: repeatTaken.shown,
		help: repeatHelp})
	for i := range out {
		out[i].with = "dial.repeatability"
	}
	return out
}()

const repeatHelp = "The same place is read five times, the tip taken off or swung away in between, and the hand off each time. How far\n" +
	"the readings scatter is what one reading is worth: their standard deviation. Nothing is dropped: a reading that stands\n" +
	"far off the others is read once more, and then counts as it is."

// A dial that is fit for use repeats within a division or two (common practice, no source).
const fewDivisions = 10

// repeatsBadly doubts a repeatability of many divisions, and one that no tolerance can be held with: both are likely to be the answer
// to another question.
func repeatsBadly(a *answers, in string, v float64) string {
	shown := decimal(v) + " " + a.unit().String()
	if one, ok := a.number("dial.graduation"); ok && one > 0 && v > fewDivisions*one*(1+1e-9) {
		words := "divisions"
		if !swept(a, in) {
			words = "steps of the readouts"
		}
		return fmt.Sprintf("%s is %s %s: is it that", shown, decimal(math.Round(v/one)), words)
	}
	for _, key := range []string{"target.tolerance", "target.centre_tolerance"} {
		if limit, ok := a.number(key); ok && limit > 0 && v > limit {
			return fmt.Sprintf("%s is beyond the tolerance of %s %v: is it that", shown, decimal(limit), a.unit())
		}
	}
	return ""
}

func findsRepeat(a *answers, _ string) bool { return a.finds("dial.repeatability") }

func readingKey(n int) string { return fmt.Sprintf("reading_%d", n+1) }

func readingText(a *answers, n int) string {
	of := fmt.Sprintf("reading %d of %d of one place", n+1, repeatReadings)
	switch {
	case !swept(a, "") && n == 0:
		return of + ": touch the wall, hand off, and read one of the readouts"
	case !swept(a, ""):
		return of + ": go away, touch the same place again, hand off, and read the same readout"
	case n == 0:
		return of + ": bring the tip on, near the middle of its way, hand off, and read"
	}
	return of + ": lift the tip off or swing it away, come back to the same place, hand off, and read"
}

// repeated are the readings of the one place, in the file's unit; fewer than all where some are still to come. With again those that
// were read once more stand in the place of what they were read for.
func (a *answers) repeated(again bool) (out []float64) {
	for n := range repeatReadings {
		v, ok := a.number("dial." + readingKey(n))
		if w, more := a.number("dial." + readingKey(n) + "_again"); more && again {
			v = w
		}
		if !ok {
			return out
		}
		out = append(out, v)
	}
	return out
}

// Of five readings one stands far off where it is beyond the middle one of the others by more than half a mark, and by more than
// three times as much as they reach from the lowest to the highest; by chance that is so in one round of twenty, and costs one reading
// (a normal spread; TestRepeatApart counts it).
const (
	apartMarks  = 0.5
	apartRanges = 3
)

// apart is how far a reading stands off the others, in the file's unit; 0 where that is not far, or not all are read.
func (a *answers) apart(n int) float64 {
	all := a.repeated(false)
	if len(all) < repeatReadings {
		return 0
	}
	own := all[n]
	others := slices.Sorted(slices.Values(slices.Delete(all, n, n+1)))
	middle := (others[1] + others[2]) / 2
	off := math.Abs(own - middle)
	least := apartMarks * a.unit().From(a.dial().Graduation)
	if off > least && off > apartRanges*(others[len(others)-1]-others[0]) {
		return off
	}
	return 0
}

func apartText(a *answers, n int) string {
	return fmt.Sprintf("reading %d, %s, stands %s %v off the others: come back to the same place, hand off, and read it once more", n+1,
		a.typed("dial."+readingKey(n)), decimal(rounded(a.apart(n), 4)), a.unit())
}

var repeatTaken = taking{make: repeatability, from: []string{"dial.reading_1"}}

// repeatability is the standard deviation of the readings, not below what reading to a part of a mark makes by itself.
func repeatability(a *answers) (finding, error) {
	u := a.unit()
	all := a.repeated(true)
	mean, sum := 0.0, 0.0
	for _, v := range all {
		mean += v / float64(len(all))
	}
	mm := make([]float64, len(all))
	shown := make([]string, len(all))
	for i, v := range all {
		sum += (v - mean) * (v - mean)
		mm[i], shown[i] = u.MM(v), decimal(v)
	}
	sd := u.MM(math.Sqrt(sum / float64(len(all)-1)))
	f := finding{says: fmt.Sprintf("%s %v: one reading repeats to %s %v (standard deviation of %d readings)",
		strings.Join(shown, ", "), u, a.length(sd), u, len(all))}
	if least := a.dial().Rounding(); sd < least {
		f.says = fmt.Sprintf("%s %v repeat to %s %v; reading to a part of a mark makes %s %v by itself, and that is taken",
			strings.Join(shown, ", "), u, a.length(sd), u, a.length(least), u)
		sd = least
	}
	const by = "found here: one place read five times"
	value, err := strconv.ParseFloat(a.length(sd), 64)
	f.also = []written{{"dial.repeatability", a.length(sd), by},
		{"dial.repeatability_readings", fmt.Sprint(len(all)), ""}}
	f.record = setup.Found{Key: setup.FoundRepeatability, By: "one place read again and again", Value: u.MM(value),
		Rounds: []setup.FoundRound{{Of: "one place", Readings: mm}}}
	return f, err
}

// rounded is a number to so many places.
func rounded(v float64, places int) float64 {
	p := math.Pow10(places)
	return math.Round(v*p) / p
}
