package ferrule.glossary;

import ferrule.curriculum.Position;
import ferrule.curriculum.Problems;
import ferrule.curriculum.SoundPart;
import ferrule.curriculum.YamlNode;
import java.util.ArrayList;
import java.util.Comparator;
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

  private static final Comparator<PlacedTerm> STRONGEST_FIRST =
      Comparator.comparing((PlacedTerm t) -> t.term().role()).thenComparing(PlacedTerm::at);

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
    checkShared();
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

  /** Where concepts share a word, each of them but one that prefers it has to say in which sense it is meant. */
  private void checkShared() {
    Map<String, List<PlacedTerm>> byWord = new LinkedHashMap<>();
    for (PlacedTerm term : terms) {
      byWord.computeIfAbsent(term.folded(), k -> new ArrayList<>()).add(term);
    }
    byWord.values().forEach(this::checkSharing);
  }

  private void checkSharing(List<PlacedTerm> sameWord) {
    List<PlacedTerm> sharing = sameWord.stream().sorted(STRONGEST_FIRST).toList();
    PlacedTerm strongest = sharing.get(0);
    if (strongest.term().role() == TermRole.MISSPELLING) {
      return; // a slip that leads to two words is told apart by the rest of the phrase, if at all
    }
    List<PlacedTerm> others = sharing.stream().filter(t -> !t.concept().equals(strongest.concept())).toList();
    others.stream().filter(TermCheck::lacksSense).forEach(term -> reportShared(term, strongest));
    if (lacksSense(strongest)) {
      others.stream().filter(t -> t.term().sense().isPresent()).findFirst()
          .ifPresent(other -> reportShared(strongest, other));
    }
  }

  private static boolean lacksSense(PlacedTerm term) {
    return term.term().role() != TermRole.PREFERRED && term.term().sense().isEmpty();
  }

  private void reportShared(PlacedTerm term, PlacedTerm other) {
    String role = switch (other.term().role()) {
      case PREFERRED -> "the preferred";
      case ALTERNATIVE -> "an alternative";
      case COLLOQUIAL -> "a colloquial";
      case MISSPELLING -> "a misspelt";
    };
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
