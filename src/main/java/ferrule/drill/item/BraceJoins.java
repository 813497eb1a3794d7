package ferrule.drill.item;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.random.RandomGenerator;
import java.util.stream.Collectors;

/** "Which two does the lit brace join?": what a brace is named by, among four pairs. */
public final class BraceJoins implements Writer {

  private static final int DISTRACTORS = 3;
  private static final int NEAR = 2;
  private static final int FEW = 4;
  private static final int ENDS = 2;

  private final Parts parts;
  private final Kinship kinship;

  /** A writer over these parts. */
  public BraceJoins(Parts parts, Kinship kinship) {
    this.parts = parts;
    this.kinship = kinship;
  }

  @Override
  public List<Topic> topics() {
    return new PartTopics(parts, kinship)
        .where(part -> part.joins().size() == ENDS && part.broader().isPresent());
  }

  @Override
  public Optional<Draft> write(Topic topic, RandomGenerator random) {
    Concept brace = parts.glossary().get(topic.key());
    Map<String, List<ConceptId>> distinct = new LinkedHashMap<>();
    distinct.put(idOf(brace.joins()), brace.joins());
    List<List<ConceptId>> distractors = new ArrayList<>();
    // most of them near, so that the drawing and not the words tells; one from elsewhere
    take(NEAR, brace, Shuffled.of(nearPairs(brace), random), distinct, distractors);
    take(DISTRACTORS, brace, Shuffled.of(otherPairs(brace), random), distinct, distractors);
    if (distractors.size() < DISTRACTORS) {
      return Optional.empty();
    }
    String kind = parts.term(brace.broader().orElseThrow());
    String because = "It joins the " + words(brace.joins()) + ", and is named by them: " + brace.term() + ".";
    List<Option> options = new ArrayList<>();
    distractors.forEach(d -> options.add(new Option(idOf(d), words(d), false, because)));
    options.add(new Option(idOf(brace.joins()), words(brace.joins()), true, because));
    return Optional.of(
        new Draft(
            brace.id(),
            Optional.of(brace.id()),
            new Interaction.Choice(
                "Which two does the lit " + kind + " join?", List.of(), Shuffled.of(options, random))));
  }

  private void take(
      int count,
      Concept brace,
      List<List<ConceptId>> from,
      Map<String, List<ConceptId>> distinct,
      List<List<ConceptId>> into) {
    for (List<ConceptId> pair : from) {
      if (into.size() < count && isWrong(brace, pair) && distinct.putIfAbsent(idOf(pair), pair) == null) {
        into.add(pair);
      }
    }
  }

  /** Pairs of parts near the ends, both of the assemblies that the ends belong to. */
  private List<List<ConceptId>> nearPairs(Concept brace) {
    List<ConceptId> first = near(brace.joins().get(0));
    List<ConceptId> second = near(brace.joins().get(1));
    List<List<ConceptId>> pairs = new ArrayList<>();
    first.forEach(a -> second.forEach(b -> pairs.add(List.of(a, b))));
    return pairs.stream().filter(p -> !p.contains(brace.id())).toList();
  }

  private List<ConceptId> near(ConceptId end) {
    List<ConceptId> found = new ArrayList<>(List.of(end));
    kinship.nearestTo(end).stream()
        .map(Kinship.Near::part)
        .filter(p -> parts.seen(p).map(Parts.Seen::home).equals(parts.seen(end).map(Parts.Seen::home)))
        .filter(p -> parts.glossary().get(p).variants().isEmpty() && parts.glossary().get(p).joins().isEmpty())
        .limit(FEW)
        .forEach(found::add);
    return found;
  }

  /** What others of its sort join, and what it joins with one end put for another that is near it. */
  private List<List<ConceptId>> otherPairs(Concept brace) {
    List<List<ConceptId>> pairs = new ArrayList<>();
    for (Concept other : parts.glossary().concepts()) {
      if (other.joins().size() == ENDS && other.broader().equals(brace.broader())) {
        pairs.add(other.joins());
      }
    }
    for (int end = 0; end < ENDS; end++) {
      ConceptId kept = brace.joins().get(1 - end);
      ConceptId replaced = brace.joins().get(end);
      kinship.nearestTo(replaced).stream()
          .limit(3)
          .map(Kinship.Near::part)
          .filter(near -> !parts.isOneWithin(near, kept) && !near.equals(brace.id()))
          .forEach(near -> pairs.add(List.of(kept, near)));
    }
    return pairs;
  }

  /** A pair of which an end is a piece of what the brace joins, or the whole of it, would not be wrong enough. */
  private boolean isWrong(Concept brace, List<ConceptId> pair) {
    boolean same =
        brace.joins().stream().allMatch(end -> pair.stream().anyMatch(other -> parts.isOneWithin(end, other)));
    Set<ConceptId> ends = new HashSet<>(pair);
    String named = pair.stream().map(parts::term).collect(Collectors.joining(" to ")) + " brace";
    return !same
        && ends.size() == ENDS
        && !parts.isOneWithin(pair.get(0), pair.get(1))
        && !parts.couldName(brace.id(), named, Set.of());
  }

  private static String idOf(List<ConceptId> pair) {
    return pair.stream().map(ConceptId::value).sorted().collect(Collectors.joining("+"));
  }

  private String words(List<ConceptId> pair) {
    return pair.stream().map(parts::term).sorted().collect(Collectors.joining(" and "));
  }
}
