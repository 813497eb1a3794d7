package ferrule.glossary;

import ferrule.curriculum.Position;
import ferrule.curriculum.Problems;
import ferrule.curriculum.SoundPart;
import ferrule.curriculum.YamlNode;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * Finds terms that would leave open which concept is meant: a preferred term given twice, a word with two meanings and
 * no sense to tell them apart, a label in two roles.
 */
final class TermCheck {

  private final YamlNode root;
  private final boolean whole;
  private final Problems problems;
  private final List<PlacedTerm> terms = new ArrayList<>();

  TermCheck(SoundPart part, Problems problems) {
    this.root = part.root();
    this.whole = part.lostIds().isEmpty();
    this.problems = problems;
    root.list("concepts").forEach(concept -> terms.addAll(PlacedTerm.of(concept)));
  }

  void run() {
    checkRoles();
    checkPreferred();
    checkOthers();
    checkSenses();
  }

  /** SKOS S13: for one concept, a label has one role. */
  private void checkRoles() {
    Map<String, PlacedTerm> seen = new HashMap<>();
    for (PlacedTerm term : terms) {
      PlacedTerm earlier = seen.putIfAbsent(term.concept() + "\n" + term.folded(), term);
      if (earlier != null) {
        problems.add(term.at(), "term '" + term.term().text() + "' stands twice for " + term.concept()
            + ", first at line " + earlier.at().line() + "; expected it once");
      }
    }
  }

  private void checkPreferred() {
    Map<String, PlacedTerm> seen = new HashMap<>();
    for (PlacedTerm term : in(TermRole.PREFERRED)) {
      PlacedTerm earlier = seen.putIfAbsent(term.folded(), term);
      if (earlier != null) {
        problems.add(term.at(), "'" + term.term().text() + "' is already the preferred term of " + earlier.concept()
            + " at line " + earlier.at().line() + "; expected a term of its own");
      }
    }
  }

  /** Every other term that is also a good term of another concept has to say in which sense it is meant. */
  private void checkOthers() {
    Map<String, List<PlacedTerm>> good = new LinkedHashMap<>();
    for (PlacedTerm term : terms) {
      if (term.term().role() == TermRole.PREFERRED || term.term().role() == TermRole.ALTERNATIVE) {
        good.computeIfAbsent(term.folded(), k -> new ArrayList<>()).add(term);
      }
    }
    for (PlacedTerm term : terms) {
      if (term.term().role() != TermRole.PREFERRED && term.term().sense().isEmpty()) {
        good.getOrDefault(term.folded(), List.of()).stream()
            .filter(other -> !other.concept().equals(term.concept()))
            .findFirst()
            .ifPresent(other -> reportShared(term, other));
      }
    }
  }

  private void reportShared(PlacedTerm term, PlacedTerm other) {
    String role = other.term().role() == TermRole.PREFERRED ? "the preferred" : "an alternative";
    problems.add(term.at(), "'" + term.term().text() + "' is also " + role + " term of " + other.concept()
        + " at line " + other.at().line() + "; expected a sense that tells the two apart");
  }

  private void checkSenses() {
    Map<String, String> words = new HashMap<>();
    root.list("senses").forEach(sense -> words.putIfAbsent(sense.text("id"), sense.text("word")));
    Map<String, PlacedTerm> used = new HashMap<>();
    for (PlacedTerm term : terms) {
      term.term().sense().ifPresent(sense -> checkSense(term, sense, words, used));
    }
    if (whole) {
      Set<String> unused = new HashSet<>(words.keySet());
      unused.removeAll(used.keySet());
      root.list("senses").stream().filter(sense -> unused.contains(sense.text("id"))).forEach(sense ->
          problems.add(sense.at(), "sense '" + sense.text("id") + "' is used by no term; expected at least one"));
    }
  }

  private void checkSense(PlacedTerm term, String sense, Map<String, String> words, Map<String, PlacedTerm> used) {
    Position at = term.senseAt();
    String word = words.get(sense);
    if (word == null) {
      problems.add(at, "unknown sense '" + sense + "'; expected one of those under 'senses'");
      return;
    }
    if (!PlacedTerm.fold(word).equals(term.folded())) {
      problems.add(at, "sense '" + sense + "' is of the word '" + word + "', not of '" + term.term().text() + "'");
    }
    PlacedTerm earlier = used.putIfAbsent(sense, term);
    if (earlier != null && !earlier.concept().equals(term.concept())) {
      problems.add(at, "sense '" + sense + "' already stands for " + earlier.concept() + " at line "
          + earlier.at().line() + "; expected one concept for a sense");
    }
  }

  private List<PlacedTerm> in(TermRole role) {
    return terms.stream().filter(t -> t.term().role() == role).toList();
  }
}
