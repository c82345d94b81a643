package job

import (
	"reflect"
	"slices"
	"strings"
	"testing"
)

// fullJobs are texts that state every key of a job file between them, each with a figure of its own.
var fullJobs = map[string]string{
	"carried": `unit = "mm"
cutters = [6, 8]
[setup]
kind = "carried"
touch = "boss"
reference_radius = 30.01
reference_radius_error = 0.0015
reference_form_error = 0.002
reach = -12.13
reach_error = 0.01
tip_diameter = 2
tilt_per_100 = 0.02
sweep_height = 11
held_radius = 42.004
held_radius_error = 0.003
[target]
swing_radius = 42
tolerance = 0.02
centre_tolerance = 0.03
[sweep]
stations = 7
at_least = 6
closing = true
from = 10
to = 330
obstacles = [[80, 130], [290, 310]]
[cut]
metal = "outside"
cutter = 8.02
stock = 0.3
measured_error = 0.004
cutter_error = 0
[part]
bracket = true
fixture_error = 0.012
every = 4
[dial]
graduation = 0.01
revolution = 1
from = -0.3
to = 1.4
reads_to = 0.5
angle_error = 0.3
lever_angle = 12
lever_angle_error = 3
error = 0.003
repeatability = 0.002
`,
	"turned, in inches": `unit = "in"
[setup]
kind = "turned"
touch = "bore"
taps = true
reference_radius = 1.1811
reach = -0.47245
indicator_bearing = 90
[target]
swing_radius = 1.6535
tolerance = 0.001
centre_tolerance = 0.0007
[sweep]
stations = 6
[cut]
metal = "inside"
cutter = 0.3125
[dial]
graduation = 0.0005
range = 0.06
whole_numbers = "thousandths"
`,
	"about no hole, the dial's figures falling": `unit = "mm"
[setup]
kind = "carried"
touch = "bore"
reference_radius = 30
reach = -12
reference_at = [12.5, -40]
angle = 1.5
angle_error = 0.05
slide_error_per_100 = 0.01
square_per_100 = 0.02
[target]
swing_radius = 42
tolerance = 0.02
centre_tolerance = 0.02
centre_at = [60, 8.25]
[sweep]
stations = 6
[dial]
graduation = 0.01
range = 1.6
pressed = "falls"
repeatability = 0.002
repeatability_readings = 5
`,
	"a trial cut": `unit = "mm"
[setup]
kind = "carried"
touch = "bore"
reference_radius = 30
[target]
swing_radius = 42
tolerance = 0.02
centre_tolerance = 0.02
[sweep]
stations = 6
[cut]
metal = "inside"
cutter = 8
stock = 0.3
radius_error = 0.5
depth = 6
step = 2
spring = true
entry = "off the part"
[dial]
graduation = 0.01
range = 1.6
`,
	"points": `unit = "mm"
[setup]
kind = "points"
touch = "bore"
[target]
centre_tolerance = 0.02
[sweep]
stations = 6
[dial]
graduation = 0.005
`,
	"set off": `unit = "mm"
[setup]
kind = "carried"
touch = "bore"
reference_radius = 30
[target]
swing_radius = 42
set_off_by = "-y"
tolerance = 0.02
centre_tolerance = 0.02
[sweep]
stations = 6
[dial]
graduation = 0.01
range = 1.6
`,
}

// A job that is written back as a file has it is the same job when it is read again, and none of a file's keys is left out: those
// that are proposed for the next arc come this way.
func TestJobsAreWrittenBack(t *testing.T) {
	var written, all []string
	for name, text := range fullJobs {
		want, err := ParseJob(name, []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		raw := rawOf(&want, want.Unit)
		for key := range raw.stated() {
			written = append(written, key)
		}
		f := &file{name: name, bad: map[string]bool{}}
		if got, err := f.job(raw, nil); err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%s: written back and read again it is\n%+v, %v, want\n%+v", name, got, err, want)
		}
	}
	(&rawJob{Cut: &rawCut{}, Part: &rawPart{}}).each(func(key string, _ reflect.Value) {
		if key != "cutters" { // of which a plan chooses: a setting has one
			all = append(all, key)
		}
	})
	for _, key := range all {
		if !slices.Contains(written, key) {
			t.Errorf("%s is not written back", key)
		}
	}
	if len(all) < 30 || !strings.Contains(strings.Join(all, " "), "setup.reach_error") {
		t.Errorf("the keys of a file are %q", all)
	}
}

// What goes over a file leaves the file as it was.
func TestFilesStayAsTheyAre(t *testing.T) {
	d, err := ReadJob("job.toml", []byte(fullJobs["carried"]))
	if err != nil {
		t.Fatal(err)
	}
	before := d.raw.stated()
	stock, reach := 9.0, 8.0
	over := &rawJob{Cut: &rawCut{Stock: &stock}}
	over.Setup.Reach = &reach
	now := d.raw.with(over, []string{"cut.metal", "setup.touch"}).stated()
	if now["cut.stock"].toml != "9" || now["setup.reach"].toml != "8" || now["cut.cutter"].toml != "8.02" || now["cut.metal"].toml != "" ||
		now["setup.touch"].toml != "" {
		t.Errorf("one over the other they are %v", now)
	}
	if !reflect.DeepEqual(d.raw.stated(), before) {
		t.Errorf("the file has become %v, want %v", d.raw.stated(), before)
	}
}
