package job_test

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/job"
)

const gaugedSlide = `unit = "in"
[slide.offset]
travel_per_turn = 0.1
divisions = 100
clockwise = "increase"
take_up = "increase"
backlash = 0.005
`

func TestParseGauge(t *testing.T) {
	got, err := job.ParseGauge("m.toml", []byte(gaugedSlide))
	if want := gauge.Usual(); err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("without [gauge]: %+v, %v, want %+v", got, err, want)
	}
	text := gaugedSlide + `[gauge]
source = "serial:/dev/ttyUSB0"
baud = 4800
bits = 7
parity = "even"
stop = 2
pattern = '^\s*(?P<value>\S+)'
mode = "button"
stable = 20
within = 0.0002
unit = "mm"
pressed = "falls"
preset = -0.5
`
	if _, err := job.ParseMachine("m.toml", []byte(text)); err != nil {
		t.Fatal(err)
	}
	got, err = job.ParseGauge("m.toml", []byte(text))
	mm := geom.Millimetre
	want := gauge.Settings{Source: "serial:/dev/ttyUSB0", Serial: gauge.Serial{Baud: 4800, Bits: 7, Parity: gauge.Even, Stop: 2},
		Pattern: `^\s*(?P<value>\S+)`, Mode: gauge.Button, Stable: 20, Within: got.Within, Unit: &mm,
		Pressed: gauge.Falls, Preset: -12.7} // half an inch of 25.4 mm
	if err != nil || !reflect.DeepEqual(got, want) || math.Abs(got.Within-0.00508) > 1e-12 { // 0.0002 in of 25.4 mm
		t.Errorf("%+v, %v, want %+v", got, err, want)
	}
}

func TestGaugeRefused(t *testing.T) {
	for line, why := range map[string]string{
		`baud = 0`:                "m.toml:9: gauge.baud: 0, must be a whole number from 1 to 4000000",
		`bits = 9`:                "gauge.bits: 9, must be a whole number from 5 to 8",
		`parity = "strange"`:      `gauge.parity: "strange", need none, odd, even, mark or space`,
		`stop = 3`:                "gauge.stop: 3, must be 1, 1.5 or 2 bits",
		`pattern = "("`:           "cannot be read: missing closing ): `(`, need a regular expression with the group (?P<value>…)",
		`pattern = "[0-9]+"`:      `m.toml:9: gauge.pattern: "[0-9]+" has no group value`,
		`mode = "loud"`:           "need stream (it sends all the time) or button",
		`stable = 2`:              "gauge.stable: 2, must be a whole number from 3 to 1000",
		`within = 0`:              "gauge.within: 0, must be above 0 in",
		`unit = "ft"`:             `gauge.unit: "ft", need mm or in`,
		`pressed = "fall"`:        `gauge.pressed: "fall", need grows or falls`,
		`pressed = "as the dial"`: `gauge.pressed: "as the dial", need grows or falls`,
		`preset = nan`:            "gauge.preset: NaN, must be the figure that it shows",
		`source = "usb1"`:         `gauge.source: "usb1", need serial:DEVICE, fifo:PATH or exec:COMMAND`,
		`source = "exec: "`:       `gauge.source: "exec: ", need`,
		`source = "fifo:\u001b"`:  "need printable characters",
		`speed = 3`:               "gauge.speed: unknown key",
	} {
		text := []byte(gaugedSlide + "[gauge]\n" + line + "\n")
		_, err := job.ParseMachine("m.toml", text)
		_, own := job.ParseGauge("m.toml", text)
		if err == nil || !strings.Contains(err.Error(), why) || own == nil || own.Error() != err.Error() {
			t.Errorf("%s: %v, and %v, want %q", line, err, own, why)
		}
	}
}
