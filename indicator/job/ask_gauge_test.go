package job_test

import (
	"strings"
	"testing"

	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/job"
)

// A cable indicator is asked about last, and nothing of it is written where there is none. Of a serial port those that are there are
// offered; a program and a pipe are named as they are. What the file then states is what was answered.
func TestMachineAskedForItsCable(t *testing.T) {
	for _, tt := range []struct {
		answers []string
		want    string // of the file
		reads   gauge.Settings
	}{
		{[]string{""}, "", gauge.Settings{}},
		{[]string{"none"}, "", gauge.Settings{}},
		{[]string{"2", "1", ""}, "[gauge]\nsource = \"serial:/dev/ttyUSB0\"\nmode = \"stream\"\n",
			gauge.Settings{Source: "serial:/dev/ttyUSB0"}},
		{[]string{"serial port", "/dev/ttyS3", "2"}, "[gauge]\nsource = \"serial:/dev/ttyS3\"\nmode = \"button\"\n",
			gauge.Settings{Source: "serial:/dev/ttyS3", Mode: gauge.Button}},
		{[]string{"exec", `read "it" \now`, "stream"}, "[gauge]\nsource = 'exec:read \"it\" \\now'\nmode = \"stream\"\n",
			gauge.Settings{Source: `exec:read "it" \now`}},
		{[]string{"a named pipe", "fifo:/tmp/a b", ""}, "[gauge]\nsource = \"fifo:/tmp/a b\"\nmode = \"stream\"\n",
			gauge.Settings{Source: "fifo:/tmp/a b"}},
	} {
		q := job.MachineQuestions(job.Facts{Name: "mill", Ports: []string{"/dev/ttyUSB0", "COM7"}})
		for {
			now, more := q.Next()
			if !more || now.Key == "gauge" {
				break
			}
			answer := map[string]string{"slides": "offset", "slide.offset.clockwise": "away"}[now.Key]
			var err error
			if q, err = q.Answer(answer); err != nil {
				t.Fatal(now.Key, err)
			}
		}
		for _, a := range tt.answers {
			var err error
			if q, err = q.Answer(a); err != nil {
				t.Fatalf("%q: %v", a, err)
			}
		}
		_, more := q.Next()
		_, table, _ := strings.Cut(string(q.Text()), "\n\n[gauge]")
		if table != "" {
			table = "[gauge]" + table
		}
		got, err := job.ParseGauge("m.toml", q.Text())
		if more || table != tt.want || err != nil || got.Source != tt.reads.Source || got.Mode != tt.reads.Mode {
			t.Errorf("%q: more to ask %v, %q, %v, want %q", tt.answers, more, table, err, tt.want)
		}
	}
}

func TestCableRefused(t *testing.T) {
	q := job.MachineQuestions(job.Facts{Name: "mill", Ports: []string{"COM7", "COM8"}})
	for now, more := q.Next(); more && now.Key != "gauge.source"; now, more = q.Next() {
		answer := map[string]string{"slides": "offset", "slide.offset.clockwise": "away", "gauge": "serial port"}[now.Key]
		var err error
		if q, err = q.Answer(answer); err != nil {
			t.Fatal(now.Key, err)
		}
	}
	if now, _ := q.Next(); len(now.Choices) != 2 || now.Choices[0] != "COM7" {
		t.Errorf("offered are %q", now.Choices)
	}
	for text, why := range map[string]string{"": "nothing is typed", "3": `"3", need the number of a serial line`, "usb:1": "need the number",
		"fifo:x": "need"} {
		if _, err := q.Answer(text); err == nil || !strings.Contains(err.Error(), why) {
			t.Errorf("%q: %v, want %q", text, err, why)
		}
	}
}
