package solver

import "context"

// outcome is what the SAT solver said.
type outcome int

const (
	cancelled outcome = 0
	satisfied outcome = 1
	failed    outcome = -1
)

var outcomeNames = map[outcome]string{satisfied: "satisfied", failed: "failed", cancelled: "cancelled"}

func (o outcome) String() string { return outcomeNames[o] }

// err is the context's error for a cancelled run, otherwise nil.
func (o outcome) err(ctx context.Context) error {
	if o != cancelled {
		return nil
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	return context.Canceled
}
