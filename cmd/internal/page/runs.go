package page

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"sync"
	"time"
)

// Why a command does not begin.
var (
	errFull    = errors.New("too many searches are waiting already: try again in a minute")
	errClosing = errors.New("Lapwright is being closed on this machine")
	errStopped = errors.New("it was stopped before it began")
)

// runs are the commands that run, and those that wait.
type runs struct {
	options Options

	mu      sync.Mutex
	running int
	waiting []*run // in the order in which they came
	byID    map[string]*run
	ended   bool // none begins any more
}

// run is one command.
type run struct {
	id    string
	ready chan struct{} // closed when it may begin
	moved chan int      // its place in the queue, the last that is known
	place int           // the same, while mu of the runs is held
	stop  chan struct{} // closed when the best so far is asked for
	once  sync.Once
}

func newRuns(o Options) *runs { return &runs{options: o, byID: map[string]*run{}} }

// enter puts a command into the queue.
func (q *runs) enter() (*run, error) {
	var id [12]byte
	if _, err := rand.Read(id[:]); err != nil {
		return nil, err
	}
	r := &run{id: hex.EncodeToString(id[:]), ready: make(chan struct{}), moved: make(chan int, 1), stop: make(chan struct{})}
	q.mu.Lock()
	defer q.mu.Unlock()
	switch {
	case q.ended:
		return nil, errClosing
	case q.running < q.options.AtOnce:
		q.running++
		close(r.ready)
	case len(q.waiting) >= q.options.Waiting:
		return nil, errFull
	default:
		q.waiting = append(q.waiting, r)
		r.place = len(q.waiting)
		r.moved <- r.place
	}
	q.byID[r.id] = r
	return r, nil
}

// wait waits until a command may begin, and tells its place in the queue whenever it
// moves up.
func (q *runs) wait(ctx context.Context, r *run, tell func(place int)) error {
	for {
		select {
		case <-r.ready:
			return nil
		case place := <-r.moved:
			tell(place)
		case <-r.stop:
			return errStopped
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}

// leave ends a command, whether it has begun or not, and lets the next begin.
func (q *runs) leave(r *run) {
	q.mu.Lock()
	defer q.mu.Unlock()
	delete(q.byID, r.id)
	for i, w := range q.waiting {
		if w == r {
			q.waiting = append(q.waiting[:i], q.waiting[i+1:]...)
			q.tell()
			return
		}
	}
	if len(q.waiting) == 0 {
		q.running--
		return
	}
	next := q.waiting[0]
	q.waiting = q.waiting[1:]
	close(next.ready)
	q.tell()
}

// tell tells those who have moved up their place.
func (q *runs) tell() {
	for i, w := range q.waiting {
		if w.place == i+1 {
			continue
		}
		w.place = i + 1
		select {
		case <-w.moved: // the old place
		default:
		}
		w.moved <- w.place
	}
}

// ask asks a command for the best so far; false tells that there is none of that id.
func (q *runs) ask(id string) bool {
	q.mu.Lock()
	defer q.mu.Unlock()
	r, ok := q.byID[id]
	if ok {
		r.halt()
	}
	return ok
}

// halt asks for the best so far, once.
func (r *run) halt() { r.once.Do(func() { close(r.stop) }) }

// stopAll asks all for the best so far, and lets none begin any more.
func (q *runs) stopAll() {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.ended = true
	for _, r := range q.byID {
		r.halt()
	}
}

// idle waits until there are no commands any more, for so long at most.
func (q *runs) idle(most time.Duration) {
	for end := time.Now().Add(most); time.Now().Before(end); time.Sleep(10 * time.Millisecond) {
		q.mu.Lock()
		left := len(q.byID)
		q.mu.Unlock()
		if left == 0 {
			return
		}
	}
}
