package ferrule.naming;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Facet;
import ferrule.naming.Reading.Obstacle;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/** What a scanned phrase is worth as the name of one part: the rules of {@link TermReader} that need the part asked for. */
final class Judgement {

  private final NameIndex index;
  private final Scan scan;
  private final int asked;
  private final Concept part;

  /** A judgement of a phrase as the name of a part, given by its number. */
  Judgement(NameIndex index, Scan scan, int asked) {
    this.index = index;
    this.scan = scan;
    this.asked = asked;
    this.part = index.parts.get(asked);
  }

  /** The verdict, with the asked part singled out among the parts of a context, or among all if the context is empty. */
  Verdict verdict(Collection<ConceptId> context) {
    if (scan.blockedBy() != Obstacle.NONE) {
      return new Verdict.Unknown(part, scan.reading());
    }
    if (scan.contains(scan.fits, asked)) {
      boolean alone = scan.picked.length == 1 && scan.picked[0] == asked;
      boolean singled = scan.namesNoun && (alone || isOnlyOneOf(context));
      return singled ? right() : tooVague(context);
    }
    return scan.namesNoun || scan.fits.length == 0 ? wrong() : new Verdict.Unknown(part, scan.reading());
  }

  /** The parts that the phrase picks out, or all that it fits if the asked one is among those only by an everyday name. */
  private int[] offered() {
    return scan.contains(scan.picked, asked) ? scan.picked : scan.fits;
  }

  private boolean isOnlyOneOf(Collection<ConceptId> context) {
    return !context.isEmpty()
        && inContext(offered(), context).stream().allMatch(c -> c == part);
  }

  private List<Concept> inContext(int[] numbers, Collection<ConceptId> context) {
    List<Concept> all = scan.concepts(numbers);
    return context.isEmpty() ? all : all.stream().filter(c -> context.contains(c.id())).toList();
  }

  private Verdict right() {
    int rank = scan.rankOf(asked);
    if (rank == NameIndex.COLLOQUIAL) {
      return new Verdict.RightColloquial(part, scan.reading());
    }
    if (rank == NameIndex.ALTERNATIVE) {
      return new Verdict.RightSynonym(part, scan.reading());
    }
    return new Verdict.Right(part, scan.reading(), unsaidQualifiers());
  }

  private List<Question> unsaidQualifiers() {
    List<Question> unsaid = new ArrayList<>(0);
    for (int facet : index.labels(asked).get(0).qualifiers()) {
      if (!index.says(scan.said, facet, index.value(asked, facet))) {
        unsaid.add(question(facet));
      }
    }
    return unsaid;
  }

  private Question question(int facet) {
    Facet f = index.facets.get(facet);
    return new Question(f.id(), f.title());
  }

  private Verdict tooVague(Collection<ConceptId> context) {
    List<Question> missing = new ArrayList<>();
    for (int f = 0; f < index.facets.size(); f++) {
      int own = index.value(asked, f);
      boolean open = own != NameIndex.NO_VALUE && !index.says(scan.said, f, own);
      if (open && differs(offered(), f)) {
        missing.add(question(f));
      }
    }
    boolean braces = Arrays.stream(offered()).allMatch(p -> !index.parts.get(p).joins().isEmpty());
    if (missing.isEmpty() && braces) {
      missing.add(Question.JOINS);
    }
    return new Verdict.TooVague(
        part, scan.reading(), missing, inContext(offered(), context), scan.namesNoun);
  }

  private boolean differs(int[] parts, int facet) {
    int first = index.value(parts[0], facet);
    return Arrays.stream(parts).anyMatch(p -> index.value(p, facet) != first);
  }

  private Verdict wrong() {
    if (scan.picked.length > 0 && Arrays.stream(scan.picked).allMatch(p -> joinsOtherThings(p))) {
      String said = String.join(" and ", index.joined(scan.picked[0]));
      return new Verdict.WrongQualifier(part, scan.reading(), Question.JOINS, said, String.join(" and ", index.joined(asked)));
    }
    if (scan.picked.length == 0 && scan.contradictsItself(asked)) {
      return new Verdict.Unknown(part, scan.reading());
    }
    Set<Integer> against = new LinkedHashSet<>();
    if (scan.hasHead(scan.said, asked) && standsOnlyByQualifiers(against)) {
      replaceByOneDifference(against);
      if (against.size() == 1) {
        return wrongQualifier(against.iterator().next());
      }
    }
    return scan.picked.length > 0 ? new Verdict.OtherPart(part, scan.reading()) : new Verdict.Unknown(part, scan.reading());
  }

  /** Whether another part is a brace of the same kind with one end elsewhere, and no question answered otherwise. */
  private boolean joinsOtherThings(int read) {
    Concept other = index.parts.get(read);
    Set<ConceptId> shared = new LinkedHashSet<>(part.joins());
    shared.retainAll(other.joins());
    boolean alike = part.broader().equals(other.broader()) && differences(asked, read).isEmpty();
    return alike && !shared.isEmpty() && shared.size() < Set.copyOf(part.joins()).size();
  }

  /** The facets whose questions two parts both answer, differently. */
  private List<Integer> differences(int one, int other) {
    List<Integer> different = new ArrayList<>();
    for (int f = 0; f < index.facets.size(); f++) {
      int own = index.value(one, f);
      int read = index.value(other, f);
      if (own != read && own != NameIndex.NO_VALUE && read != NameIndex.NO_VALUE) {
        different.add(f);
      }
    }
    return different;
  }

  /**
   * Whether the words that do not belong to the asked part are all answers to facets' questions; collects those facets,
   * the ones that the asked part has an answer to if there are any such.
   */
  private boolean standsOnlyByQualifiers(Set<Integer> against) {
    Set<Integer> foreign = new LinkedHashSet<>();
    for (int w : scan.said) {
      if (!index.any(w).contains(asked)) {
        int facet = facetAgainst(w);
        if (facet >= 0 && index.value(asked, facet) != NameIndex.NO_VALUE) {
          against.add(facet);
        } else if (facet >= 0 && !index.isOptional(w)) {
          foreign.add(facet);
        } else if (!index.isOptional(w)) {
          return false;
        }
      }
    }
    if (against.isEmpty()) {
      against.addAll(foreign);
    }
    return true;
  }

  /** The facet that a word answers otherwise than the asked part, best one that the part has an answer to; or -1. */
  private int facetAgainst(int word) {
    int found = -1;
    for (int f = index.facets.size() - 1; f >= 0; f--) {
      if (index.saidBy(word, f) != 0 && (found < 0 || index.value(asked, f) != NameIndex.NO_VALUE)) {
        found = f;
      }
    }
    return found;
  }

  /**
   * If what was said answers only a question that the asked part does not answer, finds the one that it answers otherwise:
   * "third slide crook" said of the main tuning slide's crook, which has no valve to name, is about which slide it is.
   */
  private void replaceByOneDifference(Set<Integer> against) {
    boolean told = against.stream().anyMatch(f -> index.value(asked, f) != NameIndex.NO_VALUE);
    if (told) {
      return;
    }
    List<Integer> different = scan.picked.length > 0 ? differences(asked, scan.picked[0]) : impliedAgainst(against);
    if (different.size() == 1) {
      against.clear();
      against.addAll(different);
    }
  }

  private List<Integer> impliedAgainst(Set<Integer> foreign) {
    for (int facet : foreign) {
      for (int w : scan.said) {
        long values = index.saidBy(w, facet);
        if (values != 0) {
          return index.excludedBy(facet, Long.numberOfTrailingZeros(values), asked);
        }
      }
    }
    return List.of();
  }

  private Verdict wrongQualifier(int facet) {
    int own = index.value(asked, facet);
    String is = own == NameIndex.NO_VALUE ? "" : index.facets.get(facet).values().get(own).term();
    return new Verdict.WrongQualifier(part, scan.reading(), question(facet), saidFor(facet), is);
  }

  private String saidFor(int facet) {
    List<Facet.Value> choices = index.facets.get(facet).values();
    for (int w : scan.said) {
      long values = index.saidBy(w, facet);
      if (values != 0 && !index.any(w).contains(asked)) {
        return choices.get(Long.numberOfTrailingZeros(values)).term();
      }
    }
    int read = scan.picked.length == 0 ? NameIndex.NO_VALUE : index.value(scan.picked[0], facet);
    return read == NameIndex.NO_VALUE ? scan.typed.strip() : choices.get(read).term();
  }
}
