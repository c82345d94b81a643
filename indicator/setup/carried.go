package setup

import "example.org/trammel/indicator"

// carriedRound: the indicator rides round a fixed reference with the spindle, and the machine's own slides carry it.
var carriedRound = swept{GroundFacts{Cross: [2]string{"x", "y"}}}

// carried: the head is swung, its offset slide sets the radius.
var carried = SetUp{Ground: carriedRound, Mover: slides{}, Is: func(j *Job) bool { return j.Setup.Kind == indicator.Carried },
	Example: Job{Setup: indicator.Setup{Kind: indicator.Carried}},
	Words: Words{Name: "carried", Swung: "head", Steps: func(p *Phrases) []string {
		return []string{
			"1  indicator in cutter spindle, tip pressing " + p.Press,
			"2  tip clear until the backlash is taken up; quill and knee where the sweep is to be, lock",
			"3  tip in, rock to the turning point (" + p.TurningPoint + "), lock the spindle to the head",
			"4  look again opposite, witness mark across both; once round by hand",
			"5  always swing the same way round; hand off before reading",
		}
	}},
}
