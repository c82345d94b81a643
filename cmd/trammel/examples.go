package main

import (
	"strings"

	"github.com/spf13/cobra"
)

// example is what a person may type off to see a verb at work: verb is its path below trammel, lines are whole commands.
type example struct{ verb, lines string }

// examples are all of them. A test types each, but for those behind which stands what they need. job.toml, machine.toml and plate.toml
// are files like those that the help shows, and bench is a machine that is known by name.
var examples = []example{
	{"", "trammel\ntrammel help start"},
	{"fit", `printf '0 -0.35\n90 -0.56\n180 -0.476\n270 -0.266\n' | trammel fit --reference-radius 30 --reach -12`},
	{"dial", "trammel dial --job job.toml --machine bench\ntrammel dial --resume   # at the machine"},
	{"machine", "trammel machine"},
	{"machine new", "trammel machine new mill"},
	{"machine show", "trammel machine show bench"},
	{"machine test", "trammel machine test bench"},
	{"machine mend", "trammel machine mend bench   # at the machine"},
	{"gauge", "trammel gauge serial:/dev/ttyUSB0   # needs a gauge"},
	{"reach", "trammel reach pin --difference 84.02"},
	{"reach spin", `printf '0.031\n0.019\n-0.013\n-0.039\n-0.023\n0.005\n' | trammel reach spin --touch bore --way in --plug 12 --even`},
	{"reach pair", "trammel reach pair --ring 54 --plug 30 --ring-mean 0.02 --plug-mean -0.03 --mean-error 0.002"},
	{"reach pin", "trammel reach pin --difference 84.02 --difference-error 0.01"},
	{"reach cut", "trammel reach cut --arc-radius 39 --arc-radius-error 0.01 --cutter 6 --metal inside"},
	{"reach check", "trammel reach check --touch bore --reference-radius 30 --mean-reading 0.02 --reach 12 --scale 42 --target 42"},
	{"reach rock", "trammel reach rock --touch bore --swing 42 --reach -12 --off-line 5"},
	{"reach null", "trammel reach null --touch bore --swing 42 --gauges 20,30,40 --range 1.6"},
	{"reach origin", "trammel reach origin --ring 12 --slide-bearing 0 spin.txt swing.txt"},
	{"check", "trammel check --diameter 78.04 --error 0.004 --resolution 0.002 --target 39 --tolerance 0.05"},
	{"replay", "trammel replay arc.jsonl"},
	{"report", "trammel report arc.jsonl -o arc.html"},
	{"note", "trammel note arc.jsonl --event 7 the chips were not cleaned off here"},
	{"learnt", "trammel learnt --machine machine.toml"},
	{"sessions", "trammel sessions"},
	{"plan", "trammel plan plate.toml --layer rim --cutter 6"},
	{"blends", "trammel blends plate.toml corner.jsonl rim.jsonl --layer rim --cutter 6"},
	{"sheet", "trammel sheet plate.toml --cutter 6 --cutter 10 -o sheet.html"},
	{"config", "trammel config"},
	{"practice", "trammel practice --seed 7\ntrammel practice --lesson 1\ntrammel practice --setup turned --seed 7 --auto"},
}

// addExamples puts the examples into the help of their verbs.
func addExamples(root *cobra.Command) {
	for _, e := range examples {
		if c, rest, err := root.Find(strings.Fields(e.verb)); err == nil && len(rest) == 0 {
			c.Example = "  " + strings.ReplaceAll(e.lines, "\n", "\n  ")
		}
	}
}
