package tui_test

import (
	"testing"

	"example.org/trammel/indicator/gauge"
	"example.org/trammel/tui"
)

// What is said of the needle goes once its cause has, and a question about it too.
func TestNeedleOvertakesWhatWasSaid(t *testing.T) {
	c := &wire{}
	d := cabled(t, c)
	c.moving(d, -0.31)
	d.Enter().Expect(Line("✗ the needle moves"))
	c.still(d, -0.31).Expect(Nowhere("the needle moves"))

	lost := gauge.Moment{Lost: "nothing is plugged in there any more"}
	d.Send(tui.MomentMsg(lost)).Enter().Expect(Line("is lost: nothing is plugged in"))
	c.still(d, -0.31).Expect(Nowhere("is lost"))

	w := onWind(t, real(t, nil))
	w.moves(-0.2, -0.3).Enter().Expect(Line("✗ the needle moves"))
	w.stands(-0.25).Expect(Nowhere("the needle moves")).Enter().Expect(Line("Enter once more"))
	w.moves(-0.31).Expect(Nowhere("Enter once more"))
	w.stands(-0.3).Enter().Expect(Line("Enter once more takes it"))
	before := w.state().Events
	w.moves(-0.2).Expect(Nowhere("Enter once more"))
	if w.Enter(); w.state().Events != before {
		t.Error("a question that the needle has overtaken is answered")
	}
}
