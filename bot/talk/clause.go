package talk

// clauseOf is the clause in which a token stands.
func clauseOf(tokens []token, at int) []token {
	from, to := at, at+1
	for from > 0 && tokens[from-1].clause == tokens[at].clause {
		from--
	}
	for to < len(tokens) && tokens[to].clause == tokens[at].clause {
		to++
	}
	return tokens[from:to]
}

// clauseBehind is the clause that follows the one in which a token stands.
func clauseBehind(tokens []token, at int) []token {
	for at < len(tokens)-1 {
		if at++; tokens[at].clause != tokens[at-1].clause {
			return clauseOf(tokens, at)
		}
	}
	return nil
}

// opens reports whether a token is the first of its clause.
func opens(tokens []token, i int) bool { return i == 0 || tokens[i-1].clause != tokens[i].clause }

// closes reports whether a token is the last of its clause.
func closes(tokens []token, i int) bool {
	return i+1 == len(tokens) || tokens[i+1].clause != tokens[i].clause
}

// wordBehind is the word behind a token in its clause.
func wordBehind(tokens []token, i int) string {
	if i+1 < len(tokens) && tokens[i+1].clause == tokens[i].clause {
		return tokens[i+1].word
	}
	return ""
}

// wordBefore is the word before a token, in whatever clause.
func wordBefore(tokens []token, i int) string {
	if i == 0 {
		return ""
	}
	return tokens[i-1].word
}

// overlap reports whether two phrases share a word.
func overlap(a, b found) bool { return a.from < b.to && b.from < a.to }

// spend marks the words of a phrase as read.
func spend(tokens []token, f found) {
	for i := f.from; i < f.to; i++ {
		tokens[i].spent = true
	}
}

// spent reports whether a reader has taken a word of the phrase.
func spent(tokens []token, f found) bool {
	for i := f.from; i < f.to; i++ {
		if tokens[i].spent {
			return true
		}
	}
	return false
}
