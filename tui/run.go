package tui

import (
	"context"
	"errors"
	"io"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"

	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui/pane"
	"example.org/trammel/tui/theme"
)

// Config is what a screen is opened with.
type Config struct {
	Live *session.Live
	Now  func() time.Time
	// Bench is the simulated machine in practice, else nil; Seed is its number.
	Bench *practice.Machine
	Seed  uint64
	// Wheel is that machine where a cable indicator watches it and the arrow keys wind it; nil where none does.
	Wheel *practice.Live
	// Cable is the cable indicator; nil where there is none.
	Cable Cable
	// Journal is the journal's name as it is typed into a shell, and Plan says that the screen goes back to a plan, for the page
	// of what was reached.
	Journal string
	Plan    bool
	// Topics are the pages of help that belong to no step.
	Topics []pane.Topic
	// Remind is what the status row says over the next question in place of what came before; nil, or empty, for nothing.
	Remind func(*session.State) string
	// Plain draws with ASCII only.
	Plain bool
	In    io.Reader // a Keyboard, or read until its end
	Out   io.Writer
	Shell Shell
}

// Shell is what a screen asks of what it was started from. The zero value has no bell, and nobody who could bring a
// program back.
type Shell struct {
	// Colourless draws without colours, as the person wishes it.
	Colourless bool
	// Ring sounds the terminal's bell so many times; nil is quiet. It takes its time.
	Ring func(times int)
	// Stop stops the program, which has put its terminal back with release by then, until somebody brings it back. It
	// returns false where nobody could: then release may not have been called.
	Stop func(release func() error) bool
	// OnStop is called with what is to be done when the program is asked from outside to stop, and with nil once a
	// screen has ended.
	OnStop func(func())
}

// numericKeypad puts the terminal's keypad into numeric mode, which another program may have
// left in application mode.
const numericKeypad = "\x1b>"

// styles are those for a terminal, in the colours that it can show. What lies in front of it is lifted: whether it is one
// is asked of the file itself.
func styles(out io.Writer, plain bool, sh Shell) theme.Theme {
	if front, ok := out.(interface{ Unwrap() io.Writer }); ok {
		out = front.Unwrap()
	}
	if sh.Colourless {
		out = io.Discard // which is no terminal, and has no colours
	}
	return theme.New(lipgloss.NewRenderer(out), plain)
}

// Run shows the session until it is left, an accepted one too, and returns the state it ended in. When
// ctx ends, so does the screen; everything entered is on record by then. Where an entry could not
// be put on record, the error is the *[session.RecordError] that the screen has told.
func Run(ctx context.Context, c Config) (session.State, error) {
	m := NewModel(c, styles(c.Out, c.Plain, c.Shell))
	last, err := show(ctx, m, c.In, c.Out, c.Shell)
	m.gate.close()
	if end, ok := last.(Model); ok && end.lost != nil {
		return c.Live.State(), end.lost
	}
	return c.Live.State(), err
}

// Choice is what a plan's screen was left for: the number of an arc that was chosen, or of an element that was ticked off; or to
// name cutters. Nothing where it was just left.
type Choice struct {
	Arc, Ticked int
	Cutters     bool
}

// Choose shows a plan until it is left.
func Choose(ctx context.Context, c PlanConfig) (Choice, error) {
	last, err := show(ctx, NewPlanModel(c, styles(c.Out, c.Plain, c.Shell)), c.In, c.Out, c.Shell)
	if end, ok := last.(PlanModel); ok && err == nil && ctx.Err() == nil {
		return Choice{end.Taken, end.Ticked, end.Cutters}, nil
	}
	return Choice{}, err
}

// RunReplay shows a journal's events until it is left. Nothing is recorded.
func RunReplay(ctx context.Context, c ReplayConfig) error {
	_, err := show(ctx, NewReplay(c, styles(c.Out, c.Plain, c.Shell)), c.In, c.Out, c.Shell)
	return err
}

// show runs a screen until it is left, or ctx ends: that is a way to leave too, and no error.
func show(ctx context.Context, m tea.Model, in io.Reader, out io.Writer, sh Shell) (tea.Model, error) {
	if ctx.Err() != nil {
		return m, nil
	}
	if _, err := io.WriteString(out, numericKeypad); err != nil {
		return m, err
	}
	s := stage{ctx: ctx, shell: sh}
	s.keyboard, _ = in.(Keyboard)
	s.back()
	// Signals are the caller's, who has waited for them since before anything was written; the library would wait
	// for them too late, and not for all.
	s.program = tea.NewProgram(door{m}, tea.WithInput(filtered(in, func(msg tea.Msg) { s.program.Send(msg) })), tea.WithOutput(out),
		tea.WithAltScreen(), tea.WithContext(ctx), tea.WithoutSignalHandler(), tea.WithFilter(s.filter))
	if sh.OnStop != nil {
		sh.OnStop(func() { s.program.Send(tea.SuspendMsg{}) })
		defer sh.OnStop(nil)
	}
	last, err := s.program.Run()
	s.leave()
	if errors.Is(err, tea.ErrInterrupted) || ctx.Err() != nil {
		err = nil
	}
	if d, ok := last.(door); ok {
		last = d.Model
	}
	return last, err
}

// stage is a screen that is up, and what it stands on.
type stage struct {
	ctx      context.Context
	shell    Shell
	keyboard Keyboard // nil where there is none
	program  *tea.Program
	lastCR   bool // the last key was Enter
}

// leave leaves the keyboard to others, and back takes it again.
func (s *stage) leave() {
	if s.keyboard != nil {
		s.keyboard.Leave()
	}
}

func (s *stage) back() {
	if s.keyboard != nil {
		s.keyboard.Return()
	}
}

// filter sees every message before the screen does. It is called on the library's loop.
func (s *stage) filter(_ tea.Model, msg tea.Msg) tea.Msg {
	switch msg := msg.(type) {
	case tea.SuspendMsg:
		return s.suspend()
	case tea.KeyMsg:
		return s.enter(msg)
	}
	return msg
}

// enter makes one Enter of CR, LF and CR LF, which a cable ends a reading with: else the line feed would confirm what
// is asked next.
func (s *stage) enter(k tea.KeyMsg) tea.Msg {
	afterCR := s.lastCR
	s.lastCR = k.Type == tea.KeyEnter
	if k.Type != tea.KeyCtrlJ || k.Alt {
		return k
	}
	if afterCR {
		return nil
	}
	k.Type = tea.KeyEnter
	return k
}

// suspend hands the terminal back and stops the program, where somebody could bring it back; and takes the terminal
// again, unless the program is to end.
func (s *stage) suspend() tea.Msg {
	stop, released := s.shell.Stop, false
	if stop == nil {
		return stayed{}
	}
	stopped := stop(func() error {
		released = true
		s.leave()
		return s.program.ReleaseTerminal()
	})
	if s.ctx.Err() != nil {
		return tea.QuitMsg{}
	}
	if released {
		s.back()
		if err := s.program.RestoreTerminal(); err != nil {
			return tea.QuitMsg{}
		}
	}
	if !stopped {
		return stayed{}
	}
	return tea.ResumeMsg{}
}

// stayed says that the program was to stop and has not.
type stayed struct{}

func (stayed) words() string { return "no shell could bring this program back, so it stays" }
