package ferrule.drill.item;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.random.RandomGenerator;

/**
 * "Which of these does not belong to the third slide assembly?": three that do and one that does not but lies near, such
 * as the fixed tube that the slide is drawn off. The odd one must not be the only one whose name lacks a word that the
 * others share with the assembly, for then reading would do.
 */
public final class OddOneOut implements Writer {

  private static final int DISTRACTORS = 3;
  private static final double NEAR = 2;
  private static final int TRIES = 12;

  private final Parts parts;
  private final Kinship kinship;

  /** A writer over these parts. */
  public OddOneOut(Parts parts, Kinship kinship) {
    this.parts = parts;
    this.kinship = kinship;
  }

  /** A topic for each assembly and each part outside it that lies near a part of it. */
  @Override
  public List<Topic> topics() {
    PartTopics partTopics = new PartTopics(parts, kinship);
    List<Topic> topics = new ArrayList<>();
    for (ConceptId assembly : assemblies()) {
      List<ConceptId> members = members(assembly);
      if (members.size() >= DISTRACTORS) {
        for (ConceptId odd : parts.askable().keySet()) {
          Topic topic =
              new Topic(odd, odd.value(), assembly + "/" + odd, Set.of(assembly), partTopics.hardness(odd));
          if (isOdd(odd, assembly)
              && members.stream().anyMatch(m -> isNear(odd, m))
              && write(topic, new SplittableRandom(0)).isPresent()) {
            topics.add(topic);
          }
        }
      }
    }
    return topics;
  }

  private List<ConceptId> assemblies() {
    return parts.askable().values().stream()
        .map(Parts.Seen::home)
        .distinct()
        .filter(a -> parts.glossary().get(a).partOf().isPresent())
        .toList();
  }

  // of one variant, the usual one, so that all of them can be met on one instrument
  private List<ConceptId> members(ConceptId assembly) {
    return parts.concepts().stream()
        .map(Concept::id)
        .filter(p -> parts.belongs(p, assembly))
        .filter(p -> parts.glossary().get(p).variants().isEmpty())
        .toList();
  }

  private boolean isOdd(ConceptId part, ConceptId assembly) {
    return !parts.isOneWithin(part, assembly) && parts.glossary().get(part).variants().isEmpty();
  }

  private boolean isNear(ConceptId odd, ConceptId member) {
    Concept a = parts.glossary().get(odd);
    Concept b = parts.glossary().get(member);
    boolean beside = a.connects().contains(member) || b.connects().contains(odd);
    return beside || a.qualifiers().equals(b.qualifiers()) && !a.qualifiers().isEmpty()
        || kinship.nearness(odd, member) >= NEAR;
  }

  @Override
  public Optional<Draft> write(Topic topic, RandomGenerator random) {
    ConceptId odd = topic.key();
    ConceptId assembly = ConceptId.of(topic.id().substring(0, topic.id().indexOf('/')));
    List<ConceptId> members =
        members(assembly).stream()
            .filter(m -> !parts.couldName(odd, parts.term(m), Set.of()) && !parts.couldName(m, parts.term(odd), Set.of()))
            .toList();
    for (int i = 0; i < TRIES && members.size() >= DISTRACTORS; i++) {
      List<ConceptId> three = threeApart(Shuffled.of(members, random));
      if (three.size() == DISTRACTORS && !isToldByAWord(odd, three, assembly)) {
        return Optional.of(draft(odd, three, assembly, random));
      }
    }
    return Optional.empty();
  }

  // a piece and its whole do not both stand among the options
  private List<ConceptId> threeApart(List<ConceptId> shuffled) {
    List<ConceptId> three = new ArrayList<>();
    for (ConceptId m : shuffled) {
      if (three.size() < DISTRACTORS && three.stream().noneMatch(t -> parts.isOneWithin(t, m))) {
        three.add(m);
      }
    }
    return three;
  }

  private boolean isToldByAWord(ConceptId odd, List<ConceptId> others, ConceptId assembly) {
    Set<String> shared = new HashSet<>(words(assembly));
    others.forEach(o -> shared.retainAll(words(o)));
    shared.removeAll(words(odd));
    return !shared.isEmpty();
  }

  private List<String> words(ConceptId part) {
    return Arrays.asList(parts.term(part).toLowerCase(Locale.ROOT).split(" "));
  }

  private Draft draft(ConceptId odd, List<ConceptId> others, ConceptId assembly, RandomGenerator random) {
    ConceptId home = parts.seen(odd).orElseThrow().home();
    boolean betweenAssemblies = parts.glossary().get(home).partOf().isEmpty();
    String where =
        betweenAssemblies
            ? "The " + parts.term(odd) + " belongs to none of the assemblies: it stays on the instrument between them."
            : "The " + parts.term(odd) + " belongs to the " + parts.term(home) + ".";
    List<Option> options = new ArrayList<>();
    for (ConceptId other : others) {
      options.add(
          new Option(
              other.value(), parts.term(other), false,
              "The " + parts.term(other) + " does belong to the " + parts.term(assembly) + ". " + where));
    }
    options.add(new Option(odd.value(), parts.term(odd), true, where));
    return new Draft(
        odd,
        Optional.empty(),
        new Interaction.Choice(
            "Which of these does not belong to the " + parts.term(assembly) + "?",
            List.of(),
            Shuffled.of(options, random)));
  }
}
