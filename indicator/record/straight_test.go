package record_test

import (
	"encoding/json"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
)

// On a table that is turned a straight is told by the table's angle and the readouts there; how the work would be laid along a slide
// by hand is no figure of that set-up, and is null in its JSON. Carried, the same straights have it.
func TestLayOfStraightsIsNullOnATable(t *testing.T) {
	for _, rotary := range []bool{false, true} {
		x := plate(t, geom.Millimetre, part.Options{Cutters: []float64{6}, Rotary: rotary, CutterBearing: geom.FromDegrees(90)})
		var got struct {
			Lines []map[string]any `json:"lines"`
		}
		if err := json.Unmarshal([]byte(jsonOf(t, x)), &got); err != nil {
			t.Fatal(err)
		}
		turned := 0
		for _, l := range got.Lines {
			run, ok := l["run"].([]any)
			if !ok || len(run) != 2 {
				t.Fatalf("run %v, want two", l["run"])
			}
			for name, v := range map[string]any{"along": l["along"], "at": l["at"], "run": run[0], "run, its end": run[1]} {
				if (v == nil) != rotary {
					t.Errorf("rotary %v: %s is %v", rotary, name, v)
				}
			}
			if (l["table"] != nil) != rotary {
				t.Errorf("rotary %v: table %v", rotary, l["table"])
			}
			if l["turn"] != nil {
				turned++
			}
		}
		if len(got.Lines) == 0 || (turned > 0) == rotary {
			t.Errorf("rotary %v: %d of %d straights are told a turn by hand", rotary, turned, len(got.Lines))
		}
	}
}
