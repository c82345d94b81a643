package job

import "example.org/trammel/indicator/setup"

// The values' names as they were, until whoever uses them has gone over to setup.
type (
	Job      = setup.Job
	Sweep    = setup.Sweep
	Target   = setup.Target
	SetOff   = setup.SetOff
	Obstacle = setup.Obstacle
	Cut      = setup.Cut
	Machine  = setup.Machine
	Verdicts = setup.Verdicts
)

const (
	DefaultMeasuredError = setup.DefaultMeasuredError
	DefaultCutterLimit   = setup.DefaultCutterLimit
)

func Taps(j *Job, m *Machine) bool { return setup.Taps(j, m) }
