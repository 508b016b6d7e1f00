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
//
// What that costs, as ratios within one run of the benchmarks (bench_test.go): a
// full case's bare verdict takes some 70 times a hand-written if/else of the
// same decision, and its whole plan, with steps, reasons and what would change
// it, some 20,000 times (a fifth of a millisecond where the if/else takes 11
// ns). A case of which nothing is known takes some 400 full plans. The audit
// covers a domain of some 2.6e14 cases in about half a second of work; brute force
// over the cases that the arguments read does 2 to 4 million a second a core,
// and agrees with the audit's counts. Four more facts that argue cost a case of which
// nothing is known about five times its time.
package planner
