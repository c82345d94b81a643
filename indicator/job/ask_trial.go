package job

// trialAsks are the questions where the reach is left out, for the radius will come from a trial cut.
var trialAsks = []asks{
	{key: "radius_error", with: "setup.reach",
		kind: limit{ways: ways(scaleKnown)}, optional: always, when: byTrial, def: says(scaleKnown[0].words),
		text: says("how the swing radius is set for the trial cut, which leaves the stock on and as much as that may be out"),
		help: `The cut is made on the safe side by all that the radius may be out, its arc is measured, and one wind brings it to size.
` + limitHelp},
}

// scaleKnown is how right a swing radius is by how it is set, plus or minus, millimetres (common practice, no source).
var scaleKnown = []known{{"by scale", 1}, {"by rule", 0.5}, {"by collar from a known zero", 0.2}}

// mayTry says that the reach may be left out: the arc is cut, and its radius can come from a trial cut.
func mayTry(a *answers, in string) bool {
	return byReach(a, in) && cutting(a, in) && a.word("cut.metal") != ""
}

// byTrial says that it was.
func byTrial(a *answers, in string) bool {
	return mayTry(a, in) && a.of("setup.reach") != nil && a.word("setup.reach") == "" && !a.finds("setup.reach")
}

// reachGiven says that a reach was given.
func reachGiven(a *answers, in string) bool { return byReach(a, in) && !byTrial(a, in) }

// reachText asks for the reach, and says what comes of leaving it out.
func reachText(a *answers, in string) string {
	t := "the reach: how far the tip stands from the cutter spindle's axis when the dial reads zero, " +
		"+ away from the head's or table's axis, - towards it"
	if mayTry(a, in) {
		t += "; " + Unknown + ": the radius comes from a trial cut, which is measured"
	}
	return t
}
