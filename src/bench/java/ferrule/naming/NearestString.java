package ferrule.naming;

import ferrule.glossary.ConceptId;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.apache.commons.text.similarity.LevenshteinDistance;

/** The plain way: the term with the least Levenshtein distance from the whole answer, none if two parts are equally near. */
final class NearestString {

  private static final int FARTHEST = 4;

  private final LevenshteinDistance distance = new LevenshteinDistance(FARTHEST);
  private final List<Answers.Entry> terms;

  NearestString(List<Answers.Entry> terms) {
    this.terms = terms;
  }

  Optional<ConceptId> part(String typed) {
    String answer = typed.toLowerCase(Locale.ROOT);
    int least = Integer.MAX_VALUE;
    Optional<ConceptId> nearest = Optional.empty();
    for (Answers.Entry term : terms) {
      int d = distance.apply(answer, term.phrase());
      if (d >= 0 && d < least) {
        least = d;
        nearest = Optional.of(term.part());
      } else if (d == least && !nearest.equals(Optional.of(term.part()))) {
        nearest = Optional.empty();
      }
    }
    return nearest;
  }
}
