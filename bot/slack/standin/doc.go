// Package standin is a workspace to try the Slack surface against, without Slack:
// for tests and demonstrations only. The product never imports it.
//
// A [Workspace] listens on 127.0.0.1 and speaks both ways. As the service it
// answers the web methods that the surface uses, holds Socket Mode connections
// with hello and pings, or sends signed requests to an HTTP address, and takes
// uploads. As the staff it says things: [Workspace.Mention], [Workspace.Direct],
// [Workspace.Press] and the like. It keeps every message, view and file, and
// refuses what the real service would refuse: too many blocks, too long a text,
// a name used twice, an unknown field, a method without its scope.
//
// The real program is pointed at it by its web address and tokens:
//
//	w, err := standin.New(standin.Options{})
//	defer w.Close()
//	// start the program with w.URL(), w.BotToken() and w.AppToken()
//	w.Ready(ctx)                                   // a connection is open
//	ts := w.Mention("C1", "U1", "how long do I abrade?")
//	m, err := w.Answer(ctx, "C1", ts)              // the first message in that thread
//	err = w.Press(m, "U1", "say/0/0")              // press its first button
//
// Trouble is made by [Workspace.Fail], [Workspace.Disconnect], [Workspace.Drop],
// [Workspace.Freeze] and [Workspace.Revoke]. What the workspace refused is in
// [Workspace.Refusals]; a test should end by finding it empty.
//
// The limits are from the service's public documentation as remembered and from
// public issue threads; nothing here was compared with the service itself.
package standin
