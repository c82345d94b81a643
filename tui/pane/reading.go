package pane

import (
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// readingAction sends the hand to a station.
func readingAction(v *View) action {
	p := v.Prompt
	if p.Reading.Again {
		return doubtAction(v)
	}
	at := v.degrees(p.Reading.Bearing.Degrees360())
	ring := ""
	do := "swing to "
	if v.turned() {
		do = "turn the table to "
	}
	switch {
	case v.byRing():
		at = v.ring()
	case v.Bearings == session.ByFrame:
		at, ring = "bearing "+at, " (ring "+v.degrees(p.Reading.Ring)+")"
	case v.ringApart(): // the hand sets what stands on the ring
		ring = " (ring " + v.degrees(p.Reading.Ring) + ")"
	}
	count := fmt.Sprintf("%d of %d", p.Reading.Station, p.Reading.Of)
	if p.Reading.Between { // how many there will be its readings say
		count = fmt.Sprint(p.Reading.Station)
	}
	read := lines.DialWords(&v.State, v.unit())
	look := "read the dial"
	if v.Takes() {
		look = "Enter once it stands still"
	}
	words := []string{
		fmt.Sprintf("%s %s: %s%s%s, hand off, %s (%s)", v.stationWord(), count, do, at, ring, look, read),
		fmt.Sprintf("%s: %s%s%s, read (%s)", count, do, at, ring, read),
	}
	if handle := lines.StationHandle(&v.State, &p); handle != "" {
		words = []string{words[0] + "; " + v.Num(v.text(handle)), words[1] + "; " + v.Num(v.text(handle)), words[1]}
	}
	if v.turned() {
		words = append(words, fmt.Sprintf("%s: table to %s (%s)", count, at, read))
	}
	if p.Reading.Closing {
		words = []string{
			fmt.Sprintf("closing reading: %s%s%s once more, hand off, %s (%s)", do, at, ring, look, read),
			fmt.Sprintf("closing reading: %s%s once more (%s)", at, ring, read),
		}
	}
	figure := v.stationFigure()
	if figure == at {
		return big(words, "station "+figure, figure)
	}
	name, bare, _ := strings.Cut(figure, " ") // a figure without its frame is never the larger for it
	return action{words: words, parts: []deed{{alone: []string{figure}, two: [][]string{{name}, {bare}}}}}
}

// stationWord is what a station is for: after a wind the sweep verifies it.
func (v *View) stationWord() string {
	switch {
	case v.State.Bump != nil:
		return "has it moved, reading"
	case v.Prompt.Reading.Between:
		return "between the winds, reading"
	case v.State.Raising != nil:
		return "tilt, station"
	case v.State.Trial > 1:
		return "verify, station"
	}
	return "station"
}

// stationFigure is the figure that the hand sets for the station that is asked for, named where it is not simply the bearing.
func (v *View) stationFigure() string {
	r := v.Prompt.Reading
	deg := v.degrees(r.Bearing.Degrees360())
	switch {
	case v.byRing():
		return "ring " + v.degrees(r.Ring)
	case v.Bearings == session.ByFrame:
		return "bearing " + deg
	case v.ringApart():
		return "ring " + v.degrees(r.Ring)
	}
	return deg
}

// ringApart reports whether the ring shows anywhere what is not the bearing there: figures are named then, even where both are one.
func (v *View) ringApart() bool {
	for _, b := range []geom.Bearing{0, math.Pi / 2, v.Prompt.Reading.Bearing} {
		if math.Abs(math.Remainder(v.State.RingAt(b)-b.Degrees360(), 360)) > 1e-9 {
			return true
		}
	}
	return false
}

// doubtAction asks for a station once more, and says what it may have been.
func doubtAction(v *View) action {
	p, d := v.Prompt, v.Prompt.Reading.Doubt
	may := record.SlipWords(d.Because)
	if d.WouldBe != nil {
		may += " then " + v.reading(*d.WouldBe)
	}
	words := []string{
		fmt.Sprintf("station %d does not fit: %s", p.Reading.Station, may),
		fmt.Sprintf("%d does not fit: %s", p.Reading.Station, may),
		fmt.Sprintf("%d: %s", p.Reading.Station, may),
	}
	if d.WouldBe != nil {
		words = append(words, fmt.Sprintf("%d does not fit: %s?", p.Reading.Station, v.reading(*d.WouldBe)))
	}
	return big(words, "again "+v.stationFigure(), v.stationFigure())
}

// doubtKeys says what the hand on the numeric keypad can do about a reading in doubt, in ever
// shorter forms. With a number begun, Enter takes it.
func doubtKeys(v *View) []string {
	switch d := v.Prompt.Reading.Doubt; {
	case v.Prompt.Reading.Touch && v.Entry == "":
		keeps := "touch it again, type x y, or Enter twice keeps it; / undoes"
		if d.WouldBeAt != nil {
			keeps = "touch it again, or * 1 takes the proposed point, or Enter twice keeps it"
		}
		return []string{keeps, "again, or Enter twice keeps it"}
	case v.Prompt.Reading.Touch:
		return []string{"Enter takes it in its place", "Enter takes it"}
	case v.Entry != "":
		return []string{"Enter takes it in place of " + v.DoubtedReading(), "Enter takes it"}
	case v.Takes():
		again := "Enter takes it again, or type it; * lists keep; / undoes"
		if d.WouldBe != nil {
			again = fmt.Sprintf("Enter takes it again, or type it; * 1 takes %s, * lists keep", v.reading(*d.WouldBe))
		}
		return []string{again, "Enter takes it again; * lists"}
	case d.WouldBe != nil:
		return []string{
			fmt.Sprintf("type it again, or * 1 takes %s, or Enter twice keeps %s; / undoes", v.reading(*d.WouldBe), v.DoubtedReading()),
			fmt.Sprintf("type it again, * 1 takes %s, Enter twice keeps %s", v.reading(*d.WouldBe), v.DoubtedReading()),
			fmt.Sprintf("again, or * 1 %s, or Enter twice", v.reading(*d.WouldBe)),
		}
	}
	return []string{
		fmt.Sprintf("type it again, or Enter twice keeps %s; / undoes", v.DoubtedReading()),
		"again, or Enter twice keeps it",
	}
}

// reading prints a dial reading in the job's unit, with its sign.
func (v *View) reading(mm float64) string {
	return v.Num(geom.FormatSigned(v.unit().From(mm), record.ReadingPlaces(v.job().Dial, v.unit())))
}

// DoubtedReading prints the reading that is in doubt, empty where none is.
func (v *View) DoubtedReading() string {
	n := v.Prompt.Reading.Doubt.Station
	if !v.Prompt.Reading.Again || n < 1 || n > v.State.Sweep.N {
		return ""
	}
	return v.reading(v.State.Sweep.Stations[n-1].Reading)
}
