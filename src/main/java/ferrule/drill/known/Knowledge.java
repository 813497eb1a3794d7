package ferrule.drill.known;

import ferrule.glossary.ConceptId;
import java.time.Instant;
import java.util.Collection;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

/**
 * What is known in a school, as it follows from answers in the order in which they were given: the abilities, the
 * difficulties and the traces of a {@link KnownModel}. The same answers give the same knowledge.
 *
 * <p>Not thread-safe.
 */
public final class Knowledge {

  private final KnownModel model;
  private final Map<UUID, Belief> abilities = new HashMap<>();
  private final Map<ConceptId, Belief> difficulties = new HashMap<>();
  private final Map<UUID, Map<ConceptId, Trace>> traces = new HashMap<>();

  /** Before any answer. */
  public Knowledge(KnownModel model) {
    this.model = model;
  }

  /** What follows from these answers, which come in the order in which they were given. */
  public static Knowledge replay(KnownModel model, Iterable<Answered> answers) {
    Knowledge knowledge = new Knowledge(model);
    answers.forEach(knowledge::learn);
    return knowledge;
  }

  /** The model that it follows. */
  public KnownModel model() {
    return model;
  }

  /** Takes one more answer in, in constant time; returns what is believed after it. */
  public KnownModel.Learned learn(Answered a) {
    KnownModel.Learned learned =
        model.after(
            ability(a.person()), difficulty(a.part()), trace(a.person(), a.part()), a.asking(), a.credit(), a.at());
    put(a.person(), learned.ability());
    put(a.part(), learned.difficulty());
    put(a.person(), a.part(), learned.trace());
    return learned;
  }

  /** Sets an apprentice's ability, as it was kept. */
  public void put(UUID person, Belief ability) {
    abilities.put(person, ability);
  }

  /** Sets a part's difficulty, as it was kept. */
  public void put(ConceptId part, Belief difficulty) {
    difficulties.put(part, difficulty);
  }

  /** Sets what an apprentice's answers for a part have left, as it was kept. */
  public void put(UUID person, ConceptId part, Trace trace) {
    traces.computeIfAbsent(person, p -> new HashMap<>()).put(part, trace);
  }

  /** What is believed about an apprentice's ability. */
  public Belief ability(UUID person) {
    return abilities.getOrDefault(person, model.constants().ability());
  }

  /** What is believed about a part's difficulty. */
  public Belief difficulty(ConceptId part) {
    return difficulties.getOrDefault(part, model.constants().difficulty());
  }

  /** What an apprentice's answers for a part have left, if there are any. */
  public Optional<Trace> trace(UUID person, ConceptId part) {
    return Optional.ofNullable(traces.getOrDefault(person, Map.of()).get(part));
  }

  /** Whoever answered, as far as it is known. */
  public Set<UUID> people() {
    return Collections.unmodifiableSet(abilities.keySet());
  }

  /** The parts that anybody was asked for, as far as it is known. */
  public Set<ConceptId> parts() {
    return Collections.unmodifiableSet(difficulties.keySet());
  }

  /** What an apprentice's answers have left, for each part that they were asked for. */
  public Map<ConceptId, Trace> traces(UUID person) {
    return Collections.unmodifiableMap(traces.getOrDefault(person, Map.of()));
  }

  /** The logarithm of an apprentice's hold on a part, in days. */
  public Belief hold(UUID person, ConceptId part) {
    return model.hold(ability(person), difficulty(part), trace(person, part));
  }

  /** The chance that an apprentice would name a part at a moment, if they do not meet it until then. */
  public Chance chance(UUID person, ConceptId part, Instant when) {
    return model.chance(hold(person, part), trace(person, part), when);
  }

  /**
   * The chance that an apprentice would name a part now, as far as their answers show it: none if they missed it when it
   * was asked for last. That they have read the right name since is learning and counts in {@link #chance}, but reading
   * a name is not naming the part.
   */
  public Chance shown(UUID person, ConceptId part, Instant now) {
    boolean missed = trace(person, part).filter(Trace::missed).isPresent();
    return missed ? Chance.NONE : chance(person, part, now);
  }

  /** The chance that an apprentice would answer rightly if asked for a part in this way at this moment. */
  public double right(UUID person, ConceptId part, Asking asking, Instant when) {
    return model.right(hold(person, part), trace(person, part), asking, when);
  }

  /** The share of a class, of at least one, that would name a part now, as far as {@link #shown their answers show}. */
  public Chance shareShown(Collection<UUID> people, ConceptId part, Instant now) {
    return share(people.stream().map(p -> shown(p, part, now)).toList());
  }

  /**
   * The share of a class that would name a part at a moment. The bounds hold the share itself in eight of ten cases;
   * they are those of a sum of independent answers, in the normal approximation.
   *
   * @param people the class, at least one
   */
  public Chance share(Collection<UUID> people, ConceptId part, Instant when) {
    return share(people.stream().map(p -> chance(p, part, when)).toList());
  }

  private static Chance share(List<Chance> each) {
    List<Double> chances = each.stream().map(Chance::likely).toList();
    double mean = chances.stream().mapToDouble(c -> c).average().orElseThrow();
    double variance = chances.stream().mapToDouble(c -> c * (1 - c)).sum() / chances.size() / chances.size();
    double spread = KnownModel.EIGHT_OF_TEN * Math.sqrt(variance);
    return new Chance(mean, Math.max(0, mean - spread), Math.min(1, mean + spread));
  }
}
