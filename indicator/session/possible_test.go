package session_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"example.org/trammel/indicator/journal"
	"example.org/trammel/indicator/session"
)

// kindsOfOld are the lines of a journal with most kinds of event in it, and a second setting from line 63 on.
func kindsOfOld(t *testing.T) []string {
	t.Helper()
	return goldenLines(t, "v1-every-kind.jsonl")
}

// anEvent is line n of a journal.
func anEvent(n int, kind, payload string) string {
	return fmt.Sprintf(`{"v":1,"n":%d,"t":"2025-03-04T09:30:00.000Z","k":%q,"d":%s}`, n, kind, payload)
}

// refusedAt reads lines both ways, and holds them to be refused at the last one.
func refusedAt(t *testing.T, lines []string, why string) {
	t.Helper()
	all := make([][]byte, len(lines))
	for i, l := range lines {
		all[i] = []byte(l)
	}
	before := 0
	_, folded := session.Fold(all, func(session.Step) { before++ })
	var r session.Reading
	var read error
	for _, l := range all {
		if _, read = r.Next(l); read != nil {
			break
		}
	}
	for _, err := range []error{folded, read} {
		var line *session.LineError
		if !errors.As(err, &line) || line.Number != len(lines) || !strings.Contains(line.Why, why) {
			t.Errorf("%s\nis refused so: %v, want line %d: %s", lines[len(lines)-1], err, len(lines), why)
		}
	}
	if before != len(lines)-1 {
		t.Errorf("%d lines stood before it, want %d", before, len(lines)-1)
	}
}

// A line that states what cannot be is refused with its number, whatever its check says, and what stands before it is good.
func TestJournalOfTheImpossible(t *testing.T) {
	old := kindsOfOld(t)
	for _, c := range []struct {
		behind        int
		kind, payload string
		why           string
	}{
		{2, "loaded", `{"slide":"z"}`, `slide "z", need one of the machine's`},
		{2, "at", `{"slide":"z","at":1}`, `slide "z", need one of the machine's`},
		{7, "sense", `{"slide":"q","bearing":0,"went":"up"}`, `slide "q", need one of the machine's`},
		{7, "sense", `{"slide":"tip","bearing":1e9,"went":"up"}`, "bearing"},
		{7, "reading", `{"bearing":1e9,"reading":0.1}`, "need one within 10 turns"},
		{7, "reading", `{"bearing":0,"reading":55}`, "reading 55 mm, which no needle of the dial shows, need 1.6 mm at most"},
		{8, "reading", `{"bearing":1,"reading":0.1,"again":2}`, "station 2, need 0 to 1"},
		{8, "reading", `{"bearing":1,"reading":0.1,"again":-1}`, "station -1, need 0 to 1"},
		{7, "skipped", `{"bearing":-1e3}`, "need one within 10 turns"},
		{8, "skipped", `{"bearing":0,"again":9}`, "station 9, need 0 to 1"},
		{20, "doubted", `{"station":0,"because":"sign","would_be":null}`, "station 0, need 1 to 4"},
		{20, "doubted", `{"station":5,"because":"sign","would_be":null}`, "station 5, need 1 to 4"},
		{20, "kept", `{"station":5}`, "station 5, need 1 to 4"},
		{20, "touch again", `{"station":99}`, "station 99, need 1 to 4"},
		{20, "contradicted", `{"radius":-5,"stated":30}`, "radius -5 mm, need more than 0"},
		{20, "contradicted", `{"radius":5,"stated":30,"limit":-1}`, "limit -1 mm, need 0 or more"},
		{20, "contradicted", `{"radius":5,"stated":30,"station":77}`, "station 77, need 0 to 4"},
		{20, "sized", `{"radius":0}`, "radius 0 mm, need more than 0"},
		{7, "held", `{"radius":-42,"limit":1}`, "radius -42 mm, need more than 0"},
		{7, "held", `{"radius":42,"limit":-1}`, "limit -1 mm, need 0 or more"},
		{20, "tilt", `{"height":30,"x":0,"y":0,"u":-1,"limit":0}`, "doubt -1 mm, need 0 or more"},
		{20, "tilt", `{"height":30,"x":0,"y":0,"u":0,"limit":-1}`, "limit -1 mm, need 0 or more"},
		{20, "wound", `{"slide":"x"}`, `slide "x", and no wind is told, need one`},
		{22, "wound", `{"slide":"y"}`, `slide "y", and the wind of "x" is told, need that`},
		{20, "wondered", `{"reading":0.1,"station":65,"bearing":0}`, "station 65, need 1 to 64"},
		{20, "wondered", `{"reading":7,"station":5,"bearing":0}`, "reading 7 mm, which no needle"},
		{20, "reopened", `{"bearing":1e6,"reading":0}`, "need one within 10 turns"},
		{21, "told", `{"step":1,"of":3,"wind":{"slide":"q","travel":1,"moves":[],"collar_to":1}}`, `slide "q", need one of the machine's`},
		{21, "told", `{"step":4,"of":3,"wind":{"slide":"x","travel":1,"moves":[],"collar_to":1}}`, "wind 4 of 3"},
		{21, "told", `{"step":1,"of":3,"wind":{"slide":"x","travel":1,"moves":[{"turn":"clockwise","turns":0,"divisions":-1}],"collar_to":1}}`,
			"0 turns and -1 divisions, need none below 0"},
		{21, "told", `{"step":1,"of":3,"wind":{"slide":"x","travel":1,"moves":[],"collar_to":1},` +
			`"park":{"bearing":1e9,"now":0,"past":null,"goal":1,"act":1}}`, "need one within 10 turns"},
		{7, "reading", `{"bearing":0,"reading":0,"at":{"x":1,"y":2}}`, "the coordinates of a point, need a reading of the dial"},
		{7, "collar", `{"slide":"z","figure":1}`, `slide "z", need one of the machine's`},
		{7, "collar", `{"slide":"x","figure":-1}`, "-1 div on the x slide's collar, need 0 to 100"},
		{7, "collar", `{"slide":"x","figure":100.5}`, "100.5 div on the x slide's collar, need 0 to 100"},
		{7, "note", `{"text":"a","about":8}`, "a note about event 8, need one from 1 to 7"},
		{7, "note", `{"text":"a","about":-1}`, "a note about event -1, need one from 1 to 7"},
		{7, "height", `{"height":30}`, "no first one is closed, need that"},
		{20, "height", `{"height":0}`, "at the height of the first, need one above or below"},
		{20, "tilt", `{"height":30,"x":0,"y":0,"u":0,"limit":0}`, "a tilt over 30 mm, need a second sweep at that height"},
		{20, "biased", `{"by":0.01,"limit":-1}`, "limit -1 mm, need 0 or more"},
		{20, "contradicted", `{"radius":5,"stated":0}`, "stated radius 0 mm, need more than 0"},
		{20, "suspected", `{"causes":[{"cause":"clockwise","slides":["z"]}]}`, `slide "z", need one of the machine's`},
		{20, "back", `{"causes":[{"key":"slide.z.clockwise","is":"increase"}]}`, `slide "z", need one of the machine's`},
		{20, "back", `{"winds":[{"slide":"z","travel":1,"moves":[],"collar_to":1}]}`, `slide "z", need one of the machine's`},
		{20, "back", `{"winds":[{"slide":"x","travel":1,"moves":[{"turn":"clockwise","turns":-1,"divisions":0}],"collar_to":1}]}`,
			"-1 turns and 0 divisions, need none below 0"},
		{20, "differs", `{"changes":[{"key":"slide.z.clockwise","was":"decrease","is":"increase"}]}`, `slide "z", need one`},
		{20, "restated", `{"key":"slide.z.clockwise","was":"decrease","is":"increase"}`, `slide "z", need one of the machine's`},
		{21, "told", `{"step":1,"of":3,"wind":{"slide":"x","travel":1,"moves":[],"collar_to":199}}`, "199 div on the x slide's collar"},
		{21, "told", `{"step":1,"of":3,"wind":{"slide":"x","travel":1,"moves":[],"collar_to":1},"table":1e9}`, "need one within 10 turns"},
		{21, "told", `{"step":1,"of":1,"wind":{"slide":"work","travel":1,"moves":[],"collar_to":1},"tap":{"side":1e9,"towards":true}}`,
			"need one within 10 turns"},
		{52, "accepted", `{"swing":-42,"centre":[0,1],"program":"x"}`, "swing -42 mm, need more than 0"},
		{0, "reading", `{"bearing":0,"reading":0.1}`, "no setting is opened, need that before all else"},
	} {
		n := c.behind + 1
		refusedAt(t, append(old[:c.behind:c.behind], anEvent(n, c.kind, c.payload)), c.why)
	}
	second := strings.Replace(old[0], `"n":1,`, `"n":21,`, 1)
	refusedAt(t, append(old[:20:20], second), "another setting is open, need that accepted first")
}

// goldenLines are the lines of a journal in testdata.
func goldenLines(t *testing.T, name string) (out []string) {
	t.Helper()
	got, err := journal.Read("../../testdata/journal/" + name)
	if err != nil || got.Err() != nil {
		t.Fatal(err, got.Err())
	}
	for _, l := range got.Lines {
		out = append(out, string(l))
	}
	return out
}

// The kinds of a plate's ticks, of a look whether anything has moved and of the steps hold what they say against the setting: forged
// lines are refused, and what stands in the journals of old at the same places is read.
func TestJournalOfForgedSteps(t *testing.T) {
	for _, c := range []struct {
		of            string
		behind        int
		kind, payload string
		why           string
	}{
		{"v1-plate.jsonl", 1, "ticked", `{"n":-5}`, "element -5, need one of the plate that no setting makes"},
		{"v1-plate.jsonl", 1, "ticked", `{"n":0}`, "element 0, need one of the plate that no setting makes"},
		{"v1-plate.jsonl", 1, "ticked", `{"n":1}`, "element 1, need one of the plate that no setting makes"},
		{"v1-plate.jsonl", 14, "ticked", `{"n":2}`, "element 2, which is ticked already"},
		{"v1-plate.jsonl", 29, "ticked", `{"n":4}`, "element 4, which is ticked already"},
		{"v1-bumped.jsonl", 1, "ticked", `{"n":2}`, "element 2, need one of the plate that no setting makes"},
		{"v1-bumped.jsonl", 1, "bumped", `{}`, "nothing is accepted, need that first"},
		{"v1-bumped.jsonl", 41, "bumped", `{}`, "one is under way, need that ended first"},
		{"v1-parts.jsonl", 103, "bumped", `{}`, "at a part without a sweep, need one to compare with"},
		{"v1-bumped.jsonl", 47, "reread", `{"station":99999,"reading":0.1}`, "station 99999, need 1 to 5"},
		{"v1-bumped.jsonl", 47, "reread", `{"station":1,"reading":50}`, "reading 50 mm, which no needle of the dial shows"},
		{"v1-bumped.jsonl", 38, "reread", `{"station":1,"reading":0.1}`, "no look whether anything has moved is under way"},
		{"v1-bumped.jsonl", 51, "reread", `{"station":3,"reading":0.1}`, "the look has found what it can"},
		{"v1-bumped.jsonl", 38, "moved", `{"x":0,"y":0,"u":0,"centre":"inside","readings":3}`, "no look whether anything has moved"},
		{"v1-bumped.jsonl", 50, "moved", `{"x":0,"y":0,"u":-1,"centre":"inside","readings":3}`, "doubt -1 mm, need 0 or more"},
		{"v1-bumped.jsonl", 50, "moved", `{"x":0,"y":0,"u":0,"centre":"inside","readings":-1}`, "a look of -1 readings, need 0 to"},
		{"v1-bumped.jsonl", 50, "moved", `{"x":0,"y":0,"u":0,"centre":"inside","readings":99}`, "a look of 99 readings, need 0 to"},
		{"v1-sized.jsonl", 1, "reading", `{"bearing":0,"reading":0}`, "a reading without coordinates, need the two"},
		{"v1-bumped.jsonl", 38, "stayed", `{}`, "no look whether anything has moved is under way"},
		{"v1-bumped.jsonl", 50, "stayed", `{}`, "the look has found nothing yet"},
		{"v1-bumped.jsonl", 1, "step", `{"step":"pass"}`, `step "pass", which is not to be done here`},
		{"v1-bumped.jsonl", 1, "step", `{"step":"lift out"}`, `step "lift out", which is not to be done here`},
		{"v1-bumped.jsonl", 1, "step", `{"step":"set stops"}`, `step "set stops", which is not to be done here`},
		{"v1-bumped.jsonl", 1, "step", `{"step":"part in","skipped":true}`, `step "part in", which is not to be done here`},
		{"v1-bumped.jsonl", 12, "step", `{"step":"isolate"}`, `step "isolate", which is not to be done here`},
		{"v1-bumped.jsonl", 32, "step", `{"step":"cutter out"}`, `step "cutter out", which is not to be done here`},
		{"v1-bumped.jsonl", 42, "step", `{"step":"cut"}`, `step "cut", which is not to be done here`},
		{"v1-bumped.jsonl", 125, "step", `{"step":"cut"}`, `step "cut", which is not to be done here`},
		{"v1-bumped.jsonl", 124, "step", `{"step":"check arc","value":-5}`, `with a radius of -5 mm, need more than 0`},
		{"v1-bumped.jsonl", 124, "step", `{"step":"check arc","value":0}`, `with a radius of 0 mm, need more than 0`},
	} {
		old := goldenLines(t, c.of)
		refusedAt(t, append(old[:c.behind:c.behind], anEvent(c.behind+1, c.kind, c.payload)), c.why)
	}
}

// The plate that an opening keeps is one that can be worked off.
func TestJournalOfAForgedPlate(t *testing.T) {
	old := goldenLines(t, "v1-plate.jsonl")[0]
	for _, c := range []struct{ good, forged, why string }{
		{`{"n":2}`, `{"n":-2}`, "element -2 of the plate, need each number once, from 1"},
		{`{"n":2}`, `{"n":1}`, "element 1 of the plate, need each number once, from 1"},
		{`{"n":2}`, `{"n":2,"depth":-1}`, "element 2 of the plate: depth -1 mm, need 0 or more"},
		{`{"n":2}`, `{"n":2,"cutter":-1}`, "element 2 of the plate: cutter -1 mm, need 0 or more"},
		{`{"n":2}`, `{"n":2,"layer":"a\u001b[2J"}`, "need a text that prints"},
		{`"why":"no swing radius"`, `"why":"no\nswing"`, "need a text that prints"},
		{`"plate":{"name":"plate"`, `"plate":{"name":"\u0007"`, "need a name that prints"},
		{`{"n":1,"arc":`, `{"n":7,"arc":`, "element 7 of the plate: arc 1, need the element's own number"},
		{`"swing":30`, `"swing":0`, "element 3 of the plate: swing radius 0 mm and cutter 8 mm, need both above 0"},
		{`"cutter":8,"setting":2`, `"cutter":0,"setting":2`, "element 3 of the plate: swing radius 30 mm and cutter 0 mm"},
	} {
		at := strings.Index(old, `"plate":{"name"`)
		forged := old[:at] + strings.Replace(old[at:], c.good, c.forged, 1)
		if i := strings.LastIndex(forged, `,"c":"`); i > 0 {
			forged = forged[:i] + "}"
		}
		if !strings.Contains(forged, c.forged) {
			t.Fatalf("no %s in the opening", c.good)
		}
		refusedAt(t, []string{forged}, c.why)
	}
}

// An opening states what a job's and a machine's files could have stated, and slides that the job can be wound on.
func TestJournalOfAForgedOpening(t *testing.T) {
	old := goldenLines(t, "v1-plate.jsonl")[0]
	for _, c := range []struct{ good, forged, why string }{
		{`"name":"x","travel`, `"name":"q","travel`, `a machine without the slide "x", which the job winds`},
		{`"name":"x","travel`, `"name":"y","travel`, `slide "y" twice, need it once`},
		{`"stations":6`, `"stations":2`, "sweep.stations 2, need 3 to 64"},
		{`"stations":6`, `"stations":1e11`, "sweep.stations"},
		{`"to":6.283185307179586`, `"to":-1`, "need it to go on by up to a whole turn"},
		{`"to":6.283185307179586`, `"to":1e9`, "need it to go on by up to a whole turn"},
		{`"to":6.283185307179586`, `"to":0`, "need it to go on by up to a whole turn"},
		{`"to":6.283185307179586`, `"to":6.283185307179586,"obstacles":[{"from":1,"to":1}]`, "need it to go on by up to a whole turn"},
		{`"to":6.283185307179586`, `"to":6.283185307179586,"obstacles":[{"from":1,"to":9}]`, "need it to go on by up to a whole turn"},
		{`"to":6.283185307179586`, `"to":1,"obstacles":[{"from":0,"to":2}]`, "the obstacles leave nothing of the sweep"},
		{`"n":1,"centre":{"X":0,"Y":0},"radius":38`, `"n":0,"centre":{"X":0,"Y":0},"radius":38`, "arc 0 of radius 38 mm, need a number from 1"},
		{`"radius":38`, `"radius":-38`, "arc 1 of radius -38 mm"},
		{`"cutter":8,"swing":42`, `"cutter":8,"swing":-42`, "arc 1: swing radius -42 mm"},
		{`"cutter":8,"swing":42`, `"cutter":-8,"swing":42`, "and cutter -8 mm, need none below 0"},
		{`"side":"inside"`, `"side":"NaN"`, `arc 1: side "NaN", need on, inside or outside`},
		{`"sense":"anticlockwise"}`, `"sense":"widdershins"}`, `arc 1: sense "widdershins", need none, anticlockwise or clockwise`},
		{`"sense":"anticlockwise"}`, `"sense":"anticlockwise","depth":-1}`, "arc 1: depth -1 mm"},
		{`"setting":1`, `"setting":-1`, "element 1 of the plate: setting -1 and centre 1, need 0 or more"},
		{`"rules":2`, `"rules":2,"forms":[{"radius":30,"touch":"bore","two":-1}]`, "oval by -1 mm"},
		{`"rules":2`, `"rules":2,"arcs":[{"by":{"cutter":8,"kind":"carried","touch":"bore","reference":30,"reach":-12},"off":0,"own":-1}]`,
			"a finished arc with doubts of -1"},
		{`"rules":2`, `"rules":5`, "rules 5, need 0 to 4"},
		{`"rules":2`, `"rules":2,"order":3`, "order 3, need 0 to 2"},
		{`"program":"trammel test",`, ``, `no field "program", need it`},
		{`"unit":"mm","setup"`, `"unit":null,"setup"`, `field "job": field "unit": null, need a value`},
		{`"stations":6`, `"Stations":7,"stations":6`, `field "Stations", need it in the letters of its name`},
		{`"cut":{`, `"about":{"reference_at":{"X":0,"Y":0},"centre_at":{"X":0,"Y":0},"Centre_At":{"X":9,"Y":0}},"cut":{`,
			`field "Centre_At", need it in the letters of its name`},
	} {
		forged := strings.Replace(old, c.good, c.forged, 1)
		if forged == old {
			t.Fatalf("no %s in the opening", c.good)
		}
		refusedAt(t, []string{forged}, c.why)
	}
	second := goldenLines(t, "v1-parked.jsonl")[:63]
	second[62] = strings.Replace(second[62], `"origin":`, `"ORIGIN":1,"origin":`, 1)
	refusedAt(t, second, `field "ORIGIN", need it in the letters of its name`)
}

// Whoever reads a line that this program does not know is told which program opened the setting, and when: also where the line is
// itself an opening.
func TestJournalOfANewerProgram(t *testing.T) {
	old := kindsOfOld(t)
	for _, c := range []struct {
		lines []string
		want  string
	}{
		{append(old[:64:64], anEvent(65, "sounding", "{}")),
			`journal line 65: event "sounding" is not known to this program; a newer one wrote it (the setting was opened by trammel test on 2025-03-04)`},
		{[]string{`{"v":1,"n":1,"t":"2031-05-06T09:12:31.000Z","k":"opened","d":{"program":"trammel 9","laser":true}}`},
			`journal line 1: event "opened": json: unknown field "laser" (the setting was opened by trammel 9 on 2031-05-06)`},
	} {
		var r session.Reading
		var err error
		for _, l := range c.lines {
			if _, err = r.Next([]byte(l)); err != nil {
				break
			}
		}
		if err == nil || err.Error() != c.want {
			t.Errorf("%v, want %s", err, c.want)
		}
	}
}

// What no journal could be read with again is refused where it is entered, and not found out once the session is resumed.
func TestEntryThatNoJournalHolds(t *testing.T) {
	o := benchOpened(t)
	o.Job.Dial.From, o.Job.Dial.To = 0, 0 // nothing else bounds it
	live := session.NewLive(session.State{}, &session.Memory{})
	for _, c := range []session.Command{session.Open{Opened: o}, session.Confirm{}, session.Confirm{}, session.Confirm{}} {
		if _, err := live.Do(c, begin); err != nil {
			t.Fatal(err)
		}
	}
	var refusal *session.Refusal
	_, err := live.Do(session.Take{Reading: 1e200}, begin)
	if !errors.As(err, &refusal) || !strings.Contains(refusal.Because, "number 1e+200, need 1e+12 at most") {
		t.Errorf("%v, want it refused", err)
	}
	if _, err := live.Do(session.Take{Reading: 0.1}, begin); err != nil {
		t.Error(err)
	}
}
