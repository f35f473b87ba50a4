package record

import (
	"io"
	"os"
	"path"
)

// Opener opens data-logger files, within the folder that was read. It keeps open the
// folder in which the last one lay: thousands lie in one, and to come to it again takes
// longer than to open a file. It is for one goroutine.
type Opener struct {
	in    *Intake
	root  *os.Root // of under; nil where none is open
	under string
}

// Opener makes one, which is to be closed.
func (in *Intake) Opener() *Opener { return &Opener{in: in} }

// Open opens one file. The error says in words for a person why it cannot be read.
func (o *Opener) Open(t Trace) (io.ReadCloser, error) {
	under, name := path.Split(t.entry.name)
	if err := o.enter(under); err != nil {
		return nil, cannotRead(err)
	}
	return t.entry.open(o.root, name)
}

func (o *Opener) enter(under string) error {
	if o.root != nil && o.under == under {
		return nil
	}
	o.Close()
	top, err := os.OpenRoot(o.in.dir)
	if err != nil {
		return err
	}
	defer top.Close()
	root, err := top.OpenRoot(path.Clean(under))
	if err == nil {
		o.root, o.under = root, under
	}
	return err
}

// Close lets go of the folder that is open.
func (o *Opener) Close() {
	if o.root != nil {
		o.root.Close()
		o.root = nil
	}
}
