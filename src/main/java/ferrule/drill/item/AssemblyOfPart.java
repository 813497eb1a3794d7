package ferrule.drill.item;

import ferrule.glossary.ConceptId;
import ferrule.glossary.Level;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.random.RandomGenerator;

/**
 * "Which assembly does the lit part belong to?" The part is shown on the whole instrument and not named: its own drawing
 * would show the assembly, and its name would often say it.
 */
public final class AssemblyOfPart implements Writer {

  private static final int DISTRACTORS = 3;

  private final Parts parts;
  private final Kinship kinship;

  /** A writer over these parts. */
  public AssemblyOfPart(Parts parts, Kinship kinship) {
    this.parts = parts;
    this.kinship = kinship;
  }

  @Override
  public List<Topic> topics() {
    return new PartTopics(parts, kinship)
        .where(
            part -> {
              Parts.Seen seen = parts.seen(part.id()).orElseThrow();
              return seen.onWhole() && isAssembly(seen.home()) && part.level() != Level.ASSEMBLY;
            });
  }

  // the instrument itself is no assembly to choose: everything belongs to it
  private boolean isAssembly(ConceptId home) {
    return parts.glossary().get(home).partOf().isPresent();
  }

  private List<ConceptId> assemblies() {
    return parts.askable().values().stream().map(Parts.Seen::home).distinct().filter(this::isAssembly).toList();
  }

  @Override
  public Optional<Draft> write(Topic topic, RandomGenerator random) {
    ConceptId home = parts.seen(topic.key()).orElseThrow().home();
    List<Kinship.Near> others =
        assemblies().stream()
            .filter(a -> !parts.isOneWithin(a, home) && !parts.isOneWithin(a, topic.key()))
            .map(a -> new Kinship.Near(a, nearness(topic.key(), a)))
            .sorted(Comparator.comparingDouble(Kinship.Near::nearness).reversed().thenComparing(Kinship.Near::part))
            .toList();
    List<ConceptId> distractors = Kinship.draw(others, DISTRACTORS, random);
    if (distractors.size() < DISTRACTORS) {
      return Optional.empty();
    }
    String because = "It belongs to the " + parts.term(home) + ".";
    List<Option> options = new ArrayList<>();
    distractors.forEach(d -> options.add(new Option(d.value(), parts.term(d), false, because)));
    options.add(new Option(home.value(), parts.term(home), true, because));
    return Optional.of(
        new Draft(
            topic.key(),
            Optional.of(topic.key()),
            new Interaction.Choice(
                "Which assembly does the lit part belong to?", List.of(), Shuffled.of(options, random))));
  }

  /** An assembly is as near to a part as the nearest of its own parts is. */
  private double nearness(ConceptId part, ConceptId assembly) {
    return kinship.nearestTo(part).stream()
        .filter(n -> parts.seen(n.part()).filter(s -> s.home().equals(assembly)).isPresent())
        .mapToDouble(Kinship.Near::nearness)
        .max()
        .orElse(0);
  }
}
