package job

import "example.org/trammel/indicator/setup"

// inPasses says that the arc is cut to a depth that was answered.
func inPasses(a *answers, in string) bool { return cutting(a, in) && a.word("cut.depth") != "" }

// asksDepth says that the arc is cut, and no drawing says how deep.
func asksDepth(a *answers, in string) bool { return cutting(a, in) && !a.Deep }

// depthAsks are the questions of how deep an arc is cut.
var depthAsks = []asks{
	{key: "depth", kind: number{unit: inUnit}, optional: always, when: asksDepth, out: "cut at once",
		text: says("how deep it is cut, from the top of the stock to the floor of this cut; " + Unknown + " asks for no passes"),
		help: "With it every pass of the cut is told with its depth, where it starts, which way it goes and where it stops."},
	{key: "step", with: "cut.depth", kind: number{unit: inUnit}, when: inPasses, text: says("how deep one pass may go"),
		help: "The passes are even, and not deeper than this. Your cutter, the metal and the head's stiffness say how much."},
	{key: "spring", with: "cut.depth", kind: yesNo, def: says("false"), when: inPasses,
		text: says("whether the last pass is made once more at the full depth, nothing wound, before anything is measured"),
		help: "The cutter is pushed aside by what it cuts: a spring pass takes off what that has left."},
	{key: "entry", with: "cut.depth", kind: choices(entryChoices), optional: always, def: says(dontKnow), when: inPasses,
		text: says("where the cutter may go down to the depth of a pass"),
		help: "In the waste a cutter has to cut across its middle; off the part and in a drilled hole any will do."},
}

// entryChoices are the places where the cutter may go down, in a file's words.
func entryChoices(*answers, string) (out []choice) {
	for _, r := range setup.WaysIn() {
		out = append(out, choice{words: r.Word, toml: quote(r.Word)})
	}
	return append(out, choice{words: dontKnow})
}
