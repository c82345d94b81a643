package job_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/trammel/indicator/job"
)

// Wherever the questions are cut, of a machine or of a job, and whatever was answered: going on with what was kept leads to the very
// same question and the same text, and what is kept from there is the same again; beginning anew leads to the first.
func TestKeptAnswersGoOn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := job.MachineQuestions(job.Facts{Name: "mill"})
		if rapid.Bool().Draw(t, "job") {
			q = job.JobQuestions(job.Facts{Machine: mill("offset", "x", "y")})
		}
		start := q
		for range rapid.IntRange(0, 60).Draw(t, "answers") {
			now, more := q.Next()
			if !more {
				break
			}
			text := rapid.SampledFrom(append([]string{"", "unknown", "42", "0.02", "d 60", "-12", "1.6", "in", "right"}, now.Choices...)).
				Draw(t, now.Key)
			if text == "back" {
				q, _ = q.Back()
			} else {
				q, _ = q.Answer(text)
			}
		}
		text := q.Keep()
		if (text == nil) != (len(q.Given()) == 0) {
			t.Fatalf("%d answers are kept as %q", len(q.Given()), text)
		}
		if text == nil {
			return
		}
		offered, err := start.Offer(text)
		if err != nil {
			t.Fatal(err)
		}
		if now, _ := offered.Next(); now.Key != "begun" || string(offered.Keep()) != string(text) {
			t.Fatalf("asked is %s, and kept %s, want begun and %s", now.Key, offered.Keep(), text)
		}
		on, err := offered.Answer("")
		if err != nil {
			t.Fatal(err)
		}
		was, more := q.Next()
		if now, still := on.Next(); now.Key != was.Key || still != more || string(on.Text()) != string(q.Text()) ||
			string(on.Keep()) != string(text) {
			t.Fatalf("goes on with %s and\n%s, want %s and\n%s", now.Key, on.Text(), was.Key, q.Text())
		}
		for range q.Given() {
			if on, err = on.Back(); err != nil {
				t.Fatal(err)
			}
		}
		if on, err = on.Back(); err != nil {
			t.Fatal(err)
		}
		if now, _ := on.Next(); now.Key != "begun" {
			t.Fatalf("back behind the first answer is %s, want whether they stand", now.Key)
		}
		again, err := on.Answer("begin anew")
		first, _ := start.Next()
		if now, _ := again.Next(); err != nil || now.Key != first.Key || again.Keep() != nil {
			t.Fatalf("anew begins with %s, want %s", now.Key, first.Key)
		}
	})
}

// An answer that does not fit any more is asked again, and those behind it are taken then; meanwhile they are kept.
func TestKeptAnswerThatNoLongerFits(t *testing.T) {
	const text = `{"version":1,"of":"job","answers":[{"key":"unit","typed":"mm"},{"key":"setup.kind","typed":"turned"},` +
		`{"key":"target.swing_radius","typed":"42"},{"key":"target.tolerance","typed":"0.02"},{"key":"nonsense","typed":"1"}]}`
	q, err := job.JobQuestions(job.Facts{Machine: mill("x", "y")}).Offer([]byte(text)) // no offset slide: no table can be turned
	if err != nil {
		t.Fatal(err)
	}
	if q, err = q.Answer("go on"); err != nil {
		t.Fatal(err)
	}
	if now, _ := q.Next(); now.Key != "target.swing_radius" || !strings.Contains(string(q.Keep()), `"target.tolerance"`) {
		t.Fatalf("asked is %s, kept %s; want the swing radius, and all behind it kept", now.Key, q.Keep())
	}
	if q, err = q.Back(); err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{"carried", "42"} {
		if q, err = q.Answer(text); err != nil {
			t.Fatal(err)
		}
	}
	if now, _ := q.Next(); now.Key != "target.set_off_by" {
		t.Fatalf("asked is %s, want which slide sets off", now.Key)
	}
	if q, err = q.Answer("x"); err != nil {
		t.Fatal(err)
	}
	if now, _ := q.Next(); now.Key != "target.centre_tolerance" || now.Default != "0.02" {
		t.Fatalf("asked is %s (%s), want what comes behind the tolerance that was kept", now.Key, now.Default)
	}
}

// What is no list of answers to these questions is refused with a reason, and changes nothing.
func TestKeptNonsense(t *testing.T) {
	for _, c := range []struct{ text, because string }{
		{"", "cannot be read"}, {"null", "version 0, need 1"}, {`{"version":1`, "cannot be read"},
		{`{"version":2,"of":"machine","answers":[{"key":"unit","typed":"mm"}]}`, "version 2, need 1"},
		{`{"version":1,"of":"job","answers":[{"key":"unit","typed":"mm"}]}`, `about "job", need some about a machine`},
		{`{"version":1,"of":"machine","answers":[]}`, "0 answers"}, {"[1]", "cannot be read"},
		{`{"version":1,"of":"machine","answers":[{"key":1}]}`, "cannot be read"},
		{`{"version":1,"of":"\u001b[2J","answers":[{"key":"unit","typed":"mm"}]}`, `need some about a machine`},
	} {
		q, err := job.MachineQuestions(job.Facts{}).Offer([]byte(c.text))
		if now, _ := q.Next(); err == nil || !strings.Contains(err.Error(), c.because) || strings.Contains(err.Error(), "\x1b") ||
			now.Key != "name" {
			t.Errorf("%s: %v, then %s is asked; want refused: %s", c.text, err, now.Key, c.because)
		}
	}
}
