package slack

import "mortarboard/bot/talk"

// The surface's own words. All else that it shows comes from the conversation.
const (
	interruptedText = "I was restarted while I was answering here. If no answer stands above, nothing was decided: please ask again."
	failedText      = "I could not work out an answer just now. Nothing was decided: ask again, or ask a colleague."
	failedCaution   = "Without an answer, follow the manufacturer's instructions and the judgment of the treating dentist."
	staleText       = "That button belongs to an earlier answer. Use the newest answer in the thread, or type what you want to say."
	notMemberText   = "I am not in that channel, so only you can see this answer. Invite me there to have it in the thread."
	ownMessageText  = "That message is one of my answers. Reply in its thread to go on."
	nothingSaidText = "There is no text in that message for me to answer."
	noFormText      = "The case form is not available just now. You can type the case instead."
	attachedText    = "The rest of this answer is in the attached text file."
	movedOnText     = "These questions belong to an earlier answer."
	homeText        = "Ask me in a channel by mentioning me, or write to me here."
	runsText        = "Open seating runs"
	wholeText       = "The whole answer stands in the message."
	placeholderText = "Choose"
	continuedText   = " (more answers)"
	leftText        = "%d more answers do not fit here. Type yours."
	tooLongText     = "A part of this answer does not fit here. Ask me in a channel or in a direct message to have it whole."
	undeliveredText = "My answer may not have arrived whole. If you do not see it, please ask again."
	standingCaution = "The treating dentist decides, and the manufacturer's instructions hold."
	moreLabel       = "More: "
	lessLabel       = "Less: "
	noteLabel       = "Note"
)

// failed is the Reply for an answer that could not be worked out.
func failed() talk.Reply {
	return talk.Reply{Kind: talk.KindDeclined, Headline: failedText, Text: failedText, Caution: failedCaution}
}

// note is a short message of the surface's own. Like every message it carries a
// caution: the standing one.
func note(text string) outgoing { return cautioned(text, standingCaution) }

// cautioned is a short message with a caution of its own.
func cautioned(text, caution string) outgoing {
	small, more := cautionBlocks(caution)
	return outgoing{text: escape(text) + "\n" + escape(caution), blocks: join(sections(escape(text)), more, small)}
}
