package ferrule.naming;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.Term;
import ferrule.glossary.TermRole;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * The standing rulings over a glossary: the reader with them, the refusal of one that would make a name ambiguous, and the
 * patch that carries them into the glossary's file. Immutable: a ruling added or undone gives another value.
 *
 * <p>An accepted phrase becomes a term of the part, so that it is read in any order, in every form of a number and with a
 * slip of the fingers, like any other term. A rejection stands against its phrase as it was written.
 */
public final class Rulings {

  private final Glossary glossary;
  private final Map<Key, Ruling> standing;
  private final TermReader reader;

  /** Two rulings on one phrase for one part cannot both stand. */
  private record Key(String phrase, ConceptId part) {}

  /**
   * A ruling that cannot stand beside what the glossary says.
   *
   * @param ruling the ruling
   * @param others the other parts that the phrase names already
   */
  public record Conflict(Ruling ruling, List<Concept> others) {

    /** Copies the list. */
    public Conflict {
      others = List.copyOf(others);
    }

    /** The refusal, as the instructor reads it. */
    public String sentence() {
      String names = Sentences.names(others);
      return Sentences.quoted(ruling.phrase()) + " can already mean: " + names + ". As a name of one more part it would be ambiguous.";
    }
  }

  private Rulings(Glossary glossary, Map<Key, Ruling> standing) {
    this.glossary = glossary;
    this.standing = Map.copyOf(standing);
    this.reader = TermReader.of(withTerms());
  }

  /** No rulings yet. */
  public static Rulings over(Glossary glossary) {
    return new Rulings(glossary, Map.of());
  }

  /**
   * The rulings that stand, in the order in which they were made; of two on one phrase and part the later one holds.
   * Rulings that hold only once are passed over.
   */
  public static Rulings of(Glossary glossary, Collection<Ruling> made) {
    Map<Key, Ruling> standing = new LinkedHashMap<>();
    made.stream().filter(Ruling::isStanding).forEach(r -> standing.put(keyOf(r), r));
    return new Rulings(glossary, standing);
  }

  private static Key keyOf(Ruling ruling) {
    return new Key(ruling.phrase(), ruling.part());
  }

  /** The rulings that stand, sorted by phrase and part. */
  public List<Ruling> all() {
    return standing.values().stream()
        .sorted((a, b) -> a.phrase().equals(b.phrase()) ? a.part().compareTo(b.part()) : a.phrase().compareTo(b.phrase()))
        .toList();
  }

  /** The reader of the glossary with the accepted phrases among its terms. */
  public TermReader reader() {
    return reader;
  }

  /** Judges an answer under the rulings; see {@link TermReader#judge(ConceptId, String, Collection)}. */
  public Verdict judge(ConceptId key, String typed, Collection<ConceptId> context) {
    Verdict verdict = reader.judge(key, typed, context);
    Ruling ruling = standing.get(new Key(TermReader.normalForm(typed), key));
    return ruling == null ? verdict : under(ruling.decision(), verdict);
  }

  /** What one decision makes of a verdict, such as the verdict on an answer that is accepted this once. */
  public static Verdict under(Ruling.Decision decision, Verdict verdict) {
    if (decision instanceof Ruling.Decision.Reject reject) {
      return new Verdict.Unknown(verdict.asked(), verdict.reading().ruledOut(reject.because()));
    } else if (verdict.namesThePart()) {
      return verdict;
    } else if (decision instanceof Ruling.Decision.AcceptAsColloquial) {
      return new Verdict.RightColloquial(verdict.asked(), verdict.reading());
    } else if (decision instanceof Ruling.Decision.AcceptAsMisspelling) {
      return new Verdict.Right(verdict.asked(), verdict.reading(), List.of());
    }
    return new Verdict.RightSynonym(verdict.asked(), verdict.reading());
  }

  /**
   * Why a ruling cannot stand: its phrase names other parts already, or fits several, so that as a name of this one it would
   * be ambiguous. Empty if it can stand.
   */
  public Optional<Conflict> conflictOf(Ruling ruling) {
    boolean accepts = ruling.isStanding() && !(ruling.decision() instanceof Ruling.Decision.Reject);
    if (!accepts) {
      return Optional.empty();
    }
    List<Concept> others =
        reader.fitting(ruling.phrase()).stream()
            .map(Concept::id)
            .filter(id -> !id.equals(ruling.part()))
            .map(glossary::get)
            .toList();
    return others.isEmpty() ? Optional.empty() : Optional.of(new Conflict(ruling, others));
  }

  /**
   * The rulings with one more; an earlier one on the same phrase and part gives way.
   *
   * @throws IllegalArgumentException if the ruling has a conflict; ask {@link #conflictOf} first
   */
  public Rulings with(Ruling ruling) {
    conflictOf(ruling).ifPresent(conflict -> {
      throw new IllegalArgumentException(conflict.sentence());
    });
    Map<Key, Ruling> more = new LinkedHashMap<>(standing);
    more.remove(keyOf(ruling));
    if (ruling.isStanding()) {
      more.put(keyOf(ruling), ruling);
    }
    return new Rulings(glossary, more);
  }

  /** The rulings without one; what it had accepted is judged as before it. */
  public Rulings without(Ruling ruling) {
    Map<Key, Ruling> fewer = new LinkedHashMap<>(standing);
    fewer.remove(keyOf(ruling), ruling);
    return new Rulings(glossary, fewer);
  }

  private Glossary withTerms() {
    List<Concept> concepts = new ArrayList<>();
    for (Concept c : glossary.concepts()) {
      List<Term> terms = new ArrayList<>(c.terms());
      for (Ruling ruling : all()) {
        if (ruling.part().equals(c.id())) {
          roleOf(ruling).ifPresent(role -> terms.add(Term.of(ruling.phrase(), role)));
        }
      }
      concepts.add(terms.size() == c.terms().size() ? c : withTerms(c, terms));
    }
    return new Glossary(
        glossary.id(), glossary.title(), glossary.variants(), glossary.facets(), glossary.senses(), concepts);
  }

  private static Concept withTerms(Concept c, List<Term> terms) {
    return new Concept(
        c.id(), c.level(), terms, c.definition(), c.broader(), c.partOf(), c.connects(), c.carries(), c.joins(),
        c.qualifiers(), c.variants(), c.drawn());
  }

  static Optional<TermRole> roleOf(Ruling ruling) {
    if (ruling.decision() instanceof Ruling.Decision.AcceptAsTerm) {
      return Optional.of(TermRole.ALTERNATIVE);
    } else if (ruling.decision() instanceof Ruling.Decision.AcceptAsColloquial) {
      return Optional.of(TermRole.COLLOQUIAL);
    } else if (ruling.decision() instanceof Ruling.Decision.AcceptAsMisspelling) {
      return Optional.of(TermRole.MISSPELLING);
    }
    return Optional.empty();
  }
}
