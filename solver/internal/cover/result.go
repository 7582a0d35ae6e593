package cover

import "context"

// Result is what a search came to.
type Result int

const (
	Cancelled Result = 0 // it came to no end
	Satisfied Result = 1
	Failed    Result = -1
)

var resultNames = map[Result]string{Satisfied: "satisfied", Failed: "failed", Cancelled: "cancelled"}

func (o Result) String() string { return resultNames[o] }

// Err is the context's error for a cancelled run, otherwise nil.
func (o Result) Err(ctx context.Context) error {
	if o != Cancelled {
		return nil
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	return context.Canceled
}
