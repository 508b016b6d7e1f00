// Package talk holds one conversation at a time: a Message in, a Reply out.
//
// It turns words into facts, asks the planner and the knowledge base, and puts
// the answer into words. It knows nothing of any surface: Slack, a page and a
// terminal all call [Talk.Handle] and lay out the same [Reply].
package talk
