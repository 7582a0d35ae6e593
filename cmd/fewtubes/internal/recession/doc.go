// Package recession puts the colours of a scene as far back as their planes lie,
// by the law of package air, and judges whether they lie there already.
package recession
