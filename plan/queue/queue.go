// Package queue is a priority queue. What comes out depends only on what went in, not on
// the order of that, as long as no two members are equal.
package queue

// Queue is a binary heap.
type Queue[T any] struct {
	list   []T
	before func(a, b T) bool
}

// New is an empty queue that gives out a before b if before(a, b).
func New[T any](before func(a, b T) bool) *Queue[T] { return &Queue[T]{before: before} }

// Empty reports whether there is nothing in the queue.
func (q *Queue[T]) Empty() bool { return len(q.list) == 0 }

// Push adds a member.
func (q *Queue[T]) Push(x T) {
	q.list = append(q.list, x)
	for i := len(q.list) - 1; i > 0; {
		up := (i - 1) / 2
		if !q.before(q.list[i], q.list[up]) {
			return
		}
		q.list[i], q.list[up] = q.list[up], q.list[i]
		i = up
	}
}

// Pop takes out the member that comes before all others. The queue is not empty.
func (q *Queue[T]) Pop() T {
	top, last := q.list[0], len(q.list)-1
	q.list[0] = q.list[last]
	q.list = q.list[:last]
	for i := 0; ; {
		down := 2*i + 1
		if down >= last {
			return top
		}
		if down+1 < last && q.before(q.list[down+1], q.list[down]) {
			down++
		}
		if !q.before(q.list[down], q.list[i]) {
			return top
		}
		q.list[i], q.list[down] = q.list[down], q.list[i]
		i = down
	}
}
