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
	"example.org/trammel/tui/theme"
)

// Config is what a screen is opened with.
type Config struct {
	Live *session.Live
	Now  func() time.Time
	// Bench is the simulated machine in practice, else nil; Seed is its number.
	Bench *practice.Machine
	Seed  uint64
	// Plain draws with ASCII only.
	Plain bool
	In    io.Reader
	Out   io.Writer
}

// numericKeypad puts the terminal's keypad into numeric mode, which another program may have
// left in application mode.
const numericKeypad = "\x1b>"

// Run shows the session until it is accepted or left, and returns the state it ended in. When
// ctx ends, so does the screen; everything entered is on record by then. Where an entry could not
// be put on record, the error is the *[session.RecordError] that the screen has told.
func Run(ctx context.Context, c Config) (session.State, error) {
	if _, err := io.WriteString(c.Out, numericKeypad); err != nil {
		return c.Live.State(), err
	}
	m := NewModel(c, theme.New(lipgloss.NewRenderer(c.Out), c.Plain))
	p := tea.NewProgram(m, tea.WithInput(c.In), tea.WithOutput(c.Out), tea.WithAltScreen(), tea.WithContext(ctx))
	last, err := p.Run()
	m.gate.close()
	if end, ok := last.(Model); ok && end.lost != nil {
		return c.Live.State(), end.lost
	}
	if errors.Is(err, tea.ErrInterrupted) || ctx.Err() != nil {
		err = nil // a signal is a way to leave
	}
	return c.Live.State(), err
}

// Choose shows a plan until an arc of it is chosen, and returns its number; 0 where the screen was left.
func Choose(ctx context.Context, c PlanConfig) (int, error) {
	if _, err := io.WriteString(c.Out, numericKeypad); err != nil {
		return 0, err
	}
	m := NewPlanModel(c, theme.New(lipgloss.NewRenderer(c.Out), c.Plain))
	p := tea.NewProgram(m, tea.WithInput(c.In), tea.WithOutput(c.Out), tea.WithAltScreen(), tea.WithContext(ctx))
	last, err := p.Run()
	if errors.Is(err, tea.ErrInterrupted) || ctx.Err() != nil {
		return 0, nil // a signal is a way to leave
	}
	if end, ok := last.(PlanModel); ok && err == nil {
		return end.Taken, nil
	}
	return 0, err
}

// RunReplay shows a journal's events until it is left. Nothing is recorded.
func RunReplay(ctx context.Context, c ReplayConfig) error {
	if _, err := io.WriteString(c.Out, numericKeypad); err != nil {
		return err
	}
	m := NewReplay(c, theme.New(lipgloss.NewRenderer(c.Out), c.Plain))
	_, err := tea.NewProgram(m, tea.WithInput(c.In), tea.WithOutput(c.Out), tea.WithAltScreen(), tea.WithContext(ctx)).Run()
	if errors.Is(err, tea.ErrInterrupted) || ctx.Err() != nil {
		err = nil // a signal is a way to leave
	}
	return err
}
