package practice

import "footing/internal/trace"

// Traced is one data-logger file with the load that it belongs to.
type Traced struct {
	*trace.Trace
	Load *Load // nil where none was found
	// By says how the load was found: "name", "counter" or "start"; Why, without a
	// load, says why none was.
	By, Why string
	// Sterilizer and Program are the load's, or, without a load, those that the file's
	// header names or the only ones there are; nil where they cannot be told.
	Sterilizer *Sterilizer
	Program    *Program
	// Unread says why the file could not be read to its end; then Trace holds its name alone.
	Unread string
}

// Traces is every data-logger file, by name, once they have been read: see WithTraces.
func (p *Practice) Traces() []*Traced { return p.traces }

// TracesOf is the data-logger files of a load, by name; most loads have one.
func (p *Practice) TracesOf(l *Load) []*Traced { return p.tracesOf[l] }

// WithTraces is the same practice with its data-logger files read.
func (p *Practice) WithTraces(list []*Traced) *Practice {
	q := *p
	q.traces, q.tracesOf = list, map[*Load][]*Traced{}
	for _, t := range list {
		if t.Load != nil {
			q.tracesOf[t.Load] = append(q.tracesOf[t.Load], t)
		}
	}
	return &q
}
