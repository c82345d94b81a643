package job

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/gauge"
)

type rawGauge struct {
	Source  *string  `toml:"source"`
	Baud    *float64 `toml:"baud"`
	Bits    *float64 `toml:"bits"`
	Parity  *string  `toml:"parity"`
	Stop    *float64 `toml:"stop"`
	Pattern *string  `toml:"pattern"`
	Mode    *string  `toml:"mode"`
	Stable  *float64 `toml:"stable"`
	Within  *float64 `toml:"within"`
	Unit    *string  `toml:"unit"`
	Pressed *string  `toml:"pressed"`
	Preset  *float64 `toml:"preset"`
}

// ParseGauge reads what a machine's file states of its indicator with a cable, and only that; what it does not is as usual. name
// is what messages call the file. The error is an *[Error], or [Errors].
func ParseGauge(name string, text []byte) (gauge.Settings, error) {
	var raw rawMachine
	f, err := decode(name, text, &raw)
	if f == nil {
		return gauge.Usual(), err
	}
	var u geom.Unit
	if raw.Unit != nil {
		f.word("unit", raw.Unit, &u, "mm or in")
	}
	s := f.gauge(&raw.Gauge, u)
	return s, f.wrong.err()
}

// gauge reads what is stated of an indicator with a cable; u is the unit of the file's lengths.
func (f *file) gauge(r *rawGauge, u geom.Unit) gauge.Settings {
	s := gauge.Usual()
	counts := func(key string, v *float64, into *int, least, most float64) {
		ok := func(x float64) bool { return x == math.Trunc(x) && x >= least && x <= most }
		*into = int(f.number(key, v, float64(*into), ok, fmt.Sprintf("a whole number from %v to %.0f", least, most)))
	}
	words := func(key string, v *string, into interface{ UnmarshalText([]byte) error }, need string) {
		if v != nil {
			f.word(key, v, into, need)
		}
	}
	if r.Source != nil {
		s.Source = f.text("gauge.source", *r.Source)
		if _, _, err := gauge.ParseSource(*r.Source); err != nil {
			f.fail("gauge.source", "", "%v", err)
		}
	}
	counts("gauge.baud", r.Baud, &s.Serial.Baud, 1, gauge.MostBaud)
	counts("gauge.bits", r.Bits, &s.Serial.Bits, 5, 8)
	words("gauge.parity", r.Parity, &s.Serial.Parity, "none, odd, even, mark or space")
	s.Serial.Stop = f.number("gauge.stop", r.Stop, s.Serial.Stop, func(x float64) bool { return x == 1 || x == 1.5 || x == 2 },
		"1, 1.5 or 2 bits")
	if r.Pattern != nil {
		s.Pattern = *r.Pattern
		if _, err := gauge.ParsePattern(s.Pattern); err != nil {
			f.fail("gauge.pattern", `like '(?P<value>[-+0-9.]+) mm', in single quotes, where \ stands for itself`, "%v", err)
		}
	}
	words("gauge.mode", r.Mode, &s.Mode, "stream (it sends all the time) or button (it sends as its button is pressed)")
	counts("gauge.stable", r.Stable, &s.Stable, gauge.FewestStable, gauge.MostStable)
	if r.Within != nil {
		s.Within = u.MM(f.number("gauge.within", r.Within, s.Within, positive, fmt.Sprintf("above 0 %v", u)))
	}
	words("gauge.pressed", r.Pressed, &s.Pressed, "grows or falls (what its figures do as the plunger is pressed)")
	s.Preset = u.MM(f.number("gauge.preset", r.Preset, 0, anyNumber, "the figure that it shows at the dial's zero"))
	if r.Unit != nil {
		s.Unit = new(geom.Unit)
		f.word("gauge.unit", r.Unit, s.Unit, "mm or in")
	}
	return s
}
