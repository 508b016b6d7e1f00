// Package slack is the team channel as a surface: it turns what staff do in
// Slack into a [talk.Message], and lays out the [talk.Reply] as blocks.
//
// The conversation itself is one plain func, an [Answerer]; this package knows
// nothing of dentistry. It has five nouns:
//
//   - A delivery is one thing Slack sends: an event, a press, a command, a form.
//     It comes over Socket Mode ([Run]) or over HTTP ([Serve]); from there on
//     both take the same path. It is recorded, acknowledged, and only then worked on.
//   - A lane is the work of one thread, in order. Lanes run side by side; a fixed
//     number of answers is worked out at once, and a fixed number of deliveries held.
//   - A thread is one conversation and so one case. Every new question opens its
//     own thread, in direct messages too, so that facts of one case never reach another.
//   - A layout is a Reply as Slack messages: headline first, detail folded behind
//     buttons, open questions as buttons or lists, the caution last. All text goes
//     through the type markup, which only escapes: nothing written by a person or by
//     an article can call a channel or a person.
//   - The outbox sends: paced per channel, obedient to Retry-After, nothing dropped.
//
// Nothing here logs or keeps what was said. A folded section and the message a
// button stands for travel in the button itself, so a restart loses neither.
//
// A small use:
//
//	err := slack.Run(ctx, slack.Options{
//		BotToken: bot, AppToken: app, // from files or the environment
//		Answer: func(ctx context.Context, m talk.Message) (talk.Reply, error) { ... },
//	})
//	var fatal *slack.FatalError
//	if errors.As(err, &fatal) { ... } // a person must mend this; starting again will not
//
// The stand-in workspace for tests and demonstrations is package standin.
package slack
