package wholefile

import (
	"errors"
	"io/fs"
	"os"
	"syscall"
)

// told is what the system says in words that people use.
type told struct {
	words string
	error
}

func (t told) Error() string { return t.words }
func (t told) Unwrap() error { return t.error }

// plainly are the words for what keeps a file from being written.
var plainly = []struct {
	what  error
	words string
}{
	{syscall.ENOSPC, "there is no space left on the disk"},
	{syscall.EDQUOT, "your share of the disk is used up"},
	{syscall.EFBIG, "it is larger than files may be here"},
	{syscall.EROFS, "the disk can only be read"},
	{fs.ErrPermission, "you are not allowed to write there"},
}

// cause is what the system says, without the name of the file, which may be that of the
// temporary one.
func cause(err error) error {
	var at *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &at):
		err = at.Err
	case errors.As(err, &link):
		err = link.Err
	}
	for _, p := range plainly {
		if errors.Is(err, p.what) {
			return told{p.words, err}
		}
	}
	return err
}
