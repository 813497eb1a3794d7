package ferrule.drill.item;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Facet;
import ferrule.glossary.Glossary;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.random.RandomGenerator;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * "The lit part is one of these two. Which?": two parts of one kind, both in the drawing, so that the drawing shows what
 * tells them apart.
 */
public final class LookAlikes implements Writer {

  private final Parts parts;
  private final Kinship kinship;

  /** A writer over these parts. */
  public LookAlikes(Parts parts, Kinship kinship) {
    this.parts = parts;
    this.kinship = kinship;
  }

  @Override
  public List<Topic> topics() {
    return new PartTopics(parts, kinship).where(part -> !alike(part.id()).isEmpty());
  }

  private List<Kinship.Near> alike(ConceptId part) {
    Parts.Seen seen = parts.seen(part).orElseThrow();
    Concept concept = parts.glossary().get(part);
    return kinship.nearestTo(part).stream()
        .filter(near -> seen.among().contains(near.part()))
        .filter(near -> concept.broader().isPresent() && concept.broader().equals(broader(near.part())))
        // what lies close about is drawn larger than it is seen on the whole: there the whole decides
        .filter(near -> seen.onWhole() || parts.seen(near.part()).filter(s -> s.home().equals(seen.home())).isPresent())
        .filter(near -> !parts.couldName(part, parts.term(near.part()), seen.among()))
        .filter(near -> !parts.couldName(near.part(), parts.term(part), seen.among()))
        .toList();
  }

  private Optional<ConceptId> broader(ConceptId part) {
    return parts.glossary().get(part).broader();
  }

  @Override
  public Optional<Draft> write(Topic topic, RandomGenerator random) {
    List<ConceptId> drawn = Kinship.draw(alike(topic.key()), 1, random);
    if (drawn.isEmpty()) {
      return Optional.empty();
    }
    ConceptId key = topic.key();
    ConceptId other = drawn.get(0);
    String because = difference(key, other);
    List<Option> options =
        List.of(
            new Option(key.value(), parts.term(key), true, because),
            new Option(other.value(), parts.term(other), false, because));
    return Optional.of(
        new Draft(
            key,
            Optional.of(key),
            new Interaction.Choice(
                "The lit part is one of these two. Which?", List.of(), Shuffled.of(options, random))));
  }

  /** What tells them apart, such as "Look at upper or lower: it is the upper one." */
  private String difference(ConceptId key, ConceptId other) {
    Glossary glossary = parts.glossary();
    Map<String, String> own = glossary.get(key).qualifiers();
    Map<String, String> others = glossary.get(other).qualifiers();
    String differing =
        own.entrySet().stream()
            .filter(q -> !q.getValue().equals(others.get(q.getKey())))
            .flatMap(q -> glossary.facet(q.getKey()).stream().flatMap(f -> said(f, q.getValue())))
            .collect(Collectors.joining("; "));
    return differing.isEmpty() ? "" : "What tells them apart is " + differing + ".";
  }

  private static Stream<String> said(Facet facet, String value) {
    return facet.value(value).stream().map(v -> facet.title() + ": " + v.term());
  }
}
