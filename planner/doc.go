// Package planner turns what is known about one zirconia restoration into a
// plan for seating it, with reasons.
//
// Its nouns:
//
//   - A [Fact] has a finite list of values, or measures something on an axis
//     that the rules cut into regions.
//   - A [Case] maps each fact to the values still possible; a fact nobody has
//     settled keeps them all.
//   - An [Argument] is a row of data: under these facts, this speaks for
//     bonding, for conventional cementation, or for stopping, with a weight,
//     a sentence why, and what it rests on.
//   - A [Strategy] is what the arguments that apply add up to.
//   - A [Parameter] is a setting as an envelope under conditions; it exists once
//     and is read by plans, look-ups, checks and articles.
//   - A [Step] is a row of the protocol; a [Plan] holds those that apply.
//   - A [Statement] of safety holds in every case; [Rulebook.Audit] proves it.
//   - A [Practice] brings a shelf of materials and rules of the house.
//
// All rules are YAML under rules/, documented key by key in FORMAT.md. The
// package reads no clock, no network and no disk: the caller hands it an
// [io/fs.FS], and [Rules] holds the one that is built in.
//
// How a verdict is reached: every argument whose conditions hold is collected.
// Any stop, or decisive arguments on both sides, give [Stop]; a decisive
// argument on one side decides; otherwise strong arguments on one side decide;
// strong ones on both sides give [Depends]; only weak ones give [Either].
//
// A partly known case is planned exactly, by walking the facts and keeping, in
// place of each completion, the set of rows it leaves standing (see walk.go):
// two completions that leave the same rows standing have the same plan.
package planner
