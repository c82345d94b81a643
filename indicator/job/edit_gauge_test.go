package job_test

import (
	"reflect"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/job"
)

func TestEditGauge(t *testing.T) {
	mm := geom.Millimetre
	tests := []struct {
		name, was, is string
		want          func(*gauge.Settings)
		changed       string
	}{
		{"a table that is new", "# slow screw\n" + gaugedSlide,
			"# slow screw\n" + gaugedSlide + "\n[gauge]\nsource = \"serial:COM3\"\nbaud = 4800\n",
			func(s *gauge.Settings) { s.Source, s.Serial.Baud = "serial:COM3", 4800 }, "gauge.source  \"serial:COM3\", gauge.baud  4800"},
		{"no line end at the end", strings.TrimSpace(gaugedSlide), gaugedSlide + "\n[gauge]\npattern = '(?P<value>\\d+)\"'\n",
			func(s *gauge.Settings) { s.Pattern = `(?P<value>\d+)"` }, `gauge.pattern  '(?P<value>\d+)"'`},
		{"keys that are there, with comments",
			"[gauge] # the red one\nbaud = 9600 # as bought\npressed = 'falls'# turned over\n\n" + slideTable,
			"[gauge] # the red one\nbaud = 1200 # as bought\n# pressed = 'falls'# turned over\nparity = \"even\"\n\n" + slideTable,
			func(s *gauge.Settings) { s.Serial.Baud, s.Serial.Parity, s.Pressed = 1200, gauge.Even, gauge.AsDial },
			`gauge.baud 9600 1200, gauge.parity  "even", gauge.pressed "falls" `},
		{"an empty table", "[gauge]\n" + slideTable, "[gauge]\nstop = 2\nmode = \"button\"\n" + slideTable,
			func(s *gauge.Settings) { s.Serial.Stop, s.Mode = 2, gauge.Button }, `gauge.stop  2, gauge.mode  "button"`},
		{"keys with points in them", "gauge.stable = 5\n" + slideTable, "gauge.stable = 5\ngauge.unit = \"mm\"\n" + slideTable,
			func(s *gauge.Settings) { s.Unit = &mm }, `gauge.unit  "mm"`},
		{"lengths of a file in inches", gaugedSlide, gaugedSlide + "\n[gauge]\nwithin = 0.001\npreset = -0.5\n",
			func(s *gauge.Settings) { s.Within, s.Preset = 0.0254, -12.7 }, "gauge.within  0.001, gauge.preset  -0.5"}, // 25.4 mm an inch
		{"CR LF", strings.ReplaceAll(gaugedSlide, "\n", "\r\n"),
			strings.ReplaceAll(gaugedSlide+"\n[gauge]\nbits = 7\nstop = 2\n", "\n", "\r\n"),
			func(s *gauge.Settings) { s.Serial.Bits, s.Serial.Stop = 7, 2 }, "gauge.bits  7, gauge.stop  2"},
		{"as it is", gaugedSlide + "[gauge]\nbaud = 9600\n", gaugedSlide + "[gauge]\nbaud = 9600\n", func(*gauge.Settings) {}, ""},
	}
	for _, tt := range tests {
		want, err := job.ParseGauge("m.toml", []byte(tt.was))
		if err != nil {
			t.Fatal(tt.name, err)
		}
		tt.want(&want)
		got, all, err := job.EditGauge("m.toml", []byte(tt.was), want)
		if err != nil || string(got) != tt.is {
			t.Errorf("%s: %v, the file is\n%s\nwant\n%s", tt.name, err, got, tt.is)
			continue
		}
		var changed []string
		for _, c := range all {
			changed = append(changed, c.Key+" "+c.Was+" "+c.Is)
		}
		if s := strings.Join(changed, ", "); s != tt.changed {
			t.Errorf("%s: changed %q, want %q", tt.name, s, tt.changed)
		}
		if again, err := job.ParseGauge("m.toml", got); err != nil || !reflect.DeepEqual(again, want) {
			t.Errorf("%s: it states %+v, %v, want %+v", tt.name, again, err, want)
		}
	}
}

const slideTable = `[slide.offset]
travel_per_turn = 2.5
divisions = 100
clockwise = "increase"
take_up = "increase"
backlash = 0.1
`

// What cannot be changed alone is not changed, and what to write is said.
func TestEditGaugeRefused(t *testing.T) {
	for was, why := range map[string]string{
		"gauge = { baud = 9600, bits = 8 }\n" + slideTable: "m.toml:1: gauge.baud: does not stand on a line of its own",
		"gauge = { bits = 8 }\n" + slideTable:              "m.toml:1: gauge.baud: does not stand on a line of its own",
		"[gauge]\nbaud = 0\n" + slideTable:                 "m.toml:2: gauge.baud: 0, must be",
	} {
		want := gauge.Usual()
		want.Serial.Baud = 300
		if got, _, err := job.EditGauge("m.toml", []byte(was), want); err == nil || !strings.Contains(err.Error(), why) {
			t.Errorf("%q becomes %q, %v, want %q", was, got, err, why)
		}
	}
}
