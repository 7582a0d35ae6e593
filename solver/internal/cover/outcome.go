package cover

import "context"

// Outcome is what a search came to.
type Outcome int

const (
	Cancelled Outcome = 0 // it came to no end
	Satisfied Outcome = 1
	Failed    Outcome = -1
)

var outcomeNames = map[Outcome]string{Satisfied: "satisfied", Failed: "failed", Cancelled: "cancelled"}

func (o Outcome) String() string { return outcomeNames[o] }

// Err is the context's error for a cancelled run, otherwise nil.
func (o Outcome) Err(ctx context.Context) error {
	if o != Cancelled {
		return nil
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	return context.Canceled
}
