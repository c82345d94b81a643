package theme_test

import (
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"testing"

	"example.org/trammel/tui/theme"
	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
)

// roles lists the styles of a theme by name.
func roles(th theme.Theme) map[string]lipgloss.Style {
	return map[string]lipgloss.Style{
		"Text": th.Text, "Dim": th.Dim, "Strong": th.Strong, "Good": th.Good, "Bad": th.Bad,
		"Doubt": th.Doubt, "Now": th.Now, "Rule": th.Rule, "Key": th.Key, "Big": th.Big,
	}
}

func renderer(p termenv.Profile) *lipgloss.Renderer {
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(p)
	return r
}

func TestWithoutColourEveryStyleLeavesItsText(t *testing.T) {
	for name, s := range roles(theme.New(renderer(termenv.Ascii), false)) {
		if got := s.Render("swing 42.013"); got != "swing 42.013" {
			t.Errorf("%s renders %q, want the text untouched", name, got)
		}
	}
}

// The styles must come out the same whatever the background is said to be.
func TestNoStyleDependsOnTheBackground(t *testing.T) {
	for _, p := range []termenv.Profile{termenv.ANSI, termenv.ANSI256, termenv.TrueColor} {
		dark, light := renderer(p), renderer(p)
		dark.SetHasDarkBackground(true)
		light.SetHasDarkBackground(false)
		onLight := roles(theme.New(light, false))
		for name, s := range roles(theme.New(dark, false)) {
			if d, l := s.Render("x"), onLight[name].Render("x"); d != l {
				t.Errorf("profile %v: %s is %q on dark, %q on light", p, name, d, l)
			}
		}
	}
}

// The three verdicts, the present row and the lesser text must differ from plain text where
// the terminal has colours.
func TestRolesDifferWhereThereAreColours(t *testing.T) {
	for _, p := range []termenv.Profile{termenv.ANSI256, termenv.TrueColor} {
		rs := roles(theme.New(renderer(p), false))
		seen := map[string]string{}
		for _, name := range []string{"Text", "Dim", "Strong", "Good", "Bad", "Doubt", "Now"} {
			out := rs[name].Render("x")
			if other, ok := seen[out]; ok {
				t.Errorf("profile %v: %s and %s are both %q", p, name, other, out)
			}
			seen[out] = name
		}
	}
}

var (
	sgrRGB = regexp.MustCompile(`38;2;(\d+);(\d+);(\d+)`)
	sgr256 = regexp.MustCompile(`38;5;(\d+)`)
)

// Contrast of at least 4.5 : 1 is what W3C WCAG 2.1, success criterion 1.4.3, asks of text (3 : 1
// of large text). On a background that nobody asked for, it must hold on black and on white, as
// far as the 256 colours allow it (4 : 1).
func TestColoursReadOnBlackAndOnWhite(t *testing.T) {
	for _, c := range []struct {
		profile termenv.Profile
		sgr     *regexp.Regexp
		need    float64
	}{
		{termenv.TrueColor, sgrRGB, 4.5},
		{termenv.ANSI256, sgr256, 4},
	} {
		found := 0
		for name, s := range roles(theme.New(renderer(c.profile), false)) {
			m := c.sgr.FindStringSubmatch(s.Render("x"))
			if m == nil {
				continue // the terminal's own text colour
			}
			found++
			l := luminance(colour(t, m[1:]))
			onBlack, onWhite := (l+0.05)/0.05, 1.05/(l+0.05)
			if onBlack < c.need || onWhite < c.need {
				t.Errorf("%s: contrast %.2f on black, %.2f on white, need %.1f", name, onBlack, onWhite, c.need)
			}
		}
		if found < 5 {
			t.Errorf("profile %v: %d coloured roles, want at least 5", c.profile, found)
		}
	}
}

// colour turns the parameters of an SGR sequence into red, green and blue. The cube and the
// grey ramp of the 256 colours are those of xterm (256colres.pl in its sources).
func colour(t *testing.T, params []string) [3]float64 {
	t.Helper()
	var v [3]float64
	for i, p := range params {
		n, err := strconv.Atoi(p)
		if err != nil {
			t.Fatal(err)
		}
		v[i] = float64(n)
	}
	if len(params) == 3 {
		return v
	}
	n := int(v[0])
	if n >= 232 {
		g := float64(8 + 10*(n-232))
		return [3]float64{g, g, g}
	}
	level := []float64{0, 95, 135, 175, 215, 255}
	n -= 16
	return [3]float64{level[n/36], level[n/6%6], level[n%6]}
}

// luminance is the relative luminance that WCAG 2.1 defines.
func luminance(rgb [3]float64) float64 {
	var l float64
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		c := rgb[i] / 255
		if c <= 0.03928 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		l += weight * c
	}
	return l
}

func TestNilRendererIsTheDefaultOne(t *testing.T) {
	th := theme.New(nil, true)
	want := fmt.Sprint(lipgloss.DefaultRenderer().NewStyle().Bold(true).Render("x"))
	if got := th.Strong.Render("x"); got != want {
		t.Errorf("Strong renders %q, want %q", got, want)
	}
	if !th.Plain {
		t.Error("Plain is false, want true")
	}
}
