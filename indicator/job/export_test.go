package job

// Given are the answers so far, those that stood before the first question left out.
func (q Asking) Given() []Given { return q.given.all[q.fixed:] }
