// Package certify turns the needs behind a minimum, and the colours beyond every
// tube, into theorems: claims that no mix whatever of some tubes comes within the
// tolerance. It alone knows gamut/certain.
//
// Its words:
//
//   - subject: what claims are about, tubes and targets by index
//   - claim: a set of tubes does not reach a target
//   - to ask for less: to take tubes out of a need's failing set, so that it says
//     less and is easier to prove, as far as the needs still prove the minimum
//   - narrow, ample: a need whose failing set comes nearer to the target's tolerance
//     than 0.3, or stays farther than 1
package certify
