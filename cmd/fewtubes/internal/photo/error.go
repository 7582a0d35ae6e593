package photo

// Error is something wrong with a picture file that its owner can mend.
type Error struct {
	File, Msg, Remedy string
	Err               error // the cause, may be nil
}

// Error puts it on one line.
func (e *Error) Error() string {
	s := e.File + ": " + e.Msg
	if e.Err != nil {
		s += " (" + e.Err.Error() + ")"
	}
	if e.Remedy != "" {
		s += "; " + e.Remedy
	}
	return s
}

func (e *Error) Unwrap() error { return e.Err }
