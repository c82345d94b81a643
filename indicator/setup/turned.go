package setup

import "example.org/trammel/indicator"

// turnedUnder: the indicator stands still and the table turns, with the work and the slides that it stands on.
var turnedUnder = swept{GroundFacts{Table: true, Cross: [2]string{"table_x", "table_y"}}}

// turned: two slides on the table carry the work over its axis, one of the machine's sets the radius.
var turned = SetUp{Ground: turnedUnder, Mover: slides{}, Is: func(j *Job) bool { return j.Setup.Kind == indicator.Turned },
	Example: Job{Setup: indicator.Setup{Kind: indicator.Turned}},
	Words:   Words{Name: "turned", Swung: "table", Steps: turnedSteps},
}

func turnedSteps(p *Phrases) []string {
	out := []string{
		"1  indicator in the cutter spindle at " + p.Indicator + " from the table's axis, tip pressing " + p.Press,
		"2  tip clear until the backlash is taken up; quill, knee and the machine's other slide where the sweep is to be, lock",
		"3  tip in, rock to the turning point (" + p.TurningPoint + "), lock the spindle; it stands still from now on",
		"4  turn the table clockwise from station to station, seen from above, and come to each that way; hand off before reading",
	}
	for _, r := range p.Reached {
		out = append(out, "   "+r[0]+" is wound with the table at "+r[1]+" or near it")
	}
	return out
}
