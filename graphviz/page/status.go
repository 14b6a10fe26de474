package page

import (
	"context"
	"encoding/json"
	"time"
)

// phase is how what is shown stands to the files on disk.
type phase string

const (
	checking phase = "checking"    // the files are being checked
	outdated phase = "out of date" // they have changed, and are not checked yet
	broken   phase = "broken"      // they cannot be read
	current  phase = "current"     // what is shown was checked, and nothing has changed since
)

// status is the phase as the page shows it. Times are in milliseconds since 1970, 0 for
// never.
type status struct {
	Phase phase   `json:"phase"`
	Since int64   `json:"since"` // when the phase began
	Cause string  `json:"cause"` // what has changed on disk since the last good state
	Doing string  `json:"doing"` // while checking: the task,
	Share float64 `json:"share"` // and the fraction of it that is done
	Shown int64   `json:"shown"` // when the check of the last good state ended
	Tag   string  `json:"tag"`   // of the model that goes with it
	// Version grows with each change, and from one start of the server to the next: a
	// page leaves out what arrives late.
	Version int64 `json:"version"`
}

// enter begins a phase. The caller holds the lock.
func (s *state) enter(p phase) {
	s.status.Version++
	s.status.Phase, s.status.Since, s.status.Doing, s.status.Share = p, time.Now().UnixMilli(), "", 0
	if p == current {
		s.status.Cause, s.status.Shown = "", s.status.Since
	}
}

// outdate says that files have changed since they were read.
func (s *state) outdate(cause string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.status.Cause = cause
	s.enter(outdated)
}

// begin says that a check starts.
func (s *state) begin() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.enter(checking)
}

// tell takes the progress of a check, and reports whether it is worth showing: another
// task, or another hundredth of it.
func (s *state) tell(what string, share float64) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.status.Phase != checking || what == s.status.Doing && int(100*share) == int(100*s.status.Share) {
		return false
	}
	s.status.Doing, s.status.Share = what, share
	s.status.Version++
	return true
}

// statusJSON is the status as events carry it.
func (s *state) statusJSON() []byte {
	s.mu.RLock()
	defer s.mu.RUnlock()
	data, err := json.Marshal(s.statusNow())
	if err != nil {
		panic(err) // it holds plain values
	}
	return data
}

// statusNow is the status with the tag of what is shown. The caller holds the lock.
func (s *state) statusNow() status {
	now := s.status
	now.Tag = s.now.tag
	return now
}

// check loads the kit again, unless that is cancelled, and keeps the pages informed.
func (s *server) check(ctx context.Context, unchanged func() bool) {
	s.state.begin()
	s.inform()
	s.state.refresh(ctx, s.load, unchanged, s.wake)
}

// outdate tells the pages at once that what they show is not what is on disk.
func (s *server) outdate(cause string) {
	s.state.outdate(cause)
	s.inform()
}

// tell passes on the progress of a check.
func (s *server) tell(what string, share float64) {
	if s.state.tell(what, share) {
		s.inform()
	}
}
