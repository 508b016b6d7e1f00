// Package page is the browser as a surface: the same conversation as in the
// channel, on 127.0.0.1, with pictures and room.
//
// The conversation itself is one plain func, Options.Answer; this package knows
// nothing of dentistry. It has five nouns:
//
//   - A case is one conversation, at an address of its own, so that two windows
//     hold two cases and never share a fact. It is a pile of cards, newest on top.
//   - A card is one question with its answer. Cards are kept in memory only, for
//     half a day, and belong to the browser that asked.
//   - A view is a [talk.Reply] made ready for the templates: what stands both in
//     a section and in a list of the reply (steps, reasons, values, facts) is
//     shown once, and no line of it is lost.
//   - A sheet is a card for the treatment room, laid out for one page of paper.
//   - A trouble is what went wrong, in words, with the mend.
//
// It is guarded as if every other page in the browser were hostile: loopback
// only, names of hosts checked, forms sealed, no inline script, nothing loaded
// from elsewhere. A link with a question (/?q=…) always opens a new case, since a
// link that somebody else wrote must not put facts into a case at hand. Without
// script all of it works; the script only counts ticks, offers the print button
// and keeps a question from being sent twice.
//
// Nothing here logs or writes down what was said. A question whose reply is
// Private is not kept at all.
//
// A small use:
//
//	l, err := net.Listen("tcp", "127.0.0.1:8765")
//	...
//	err = page.Serve(ctx, l, page.Options{
//		Practice: "Our practice",
//		Answer: func(ctx context.Context, m talk.Message) (talk.Reply, error) { ... },
//	})
package page
