package ferrule.bench;

import ferrule.glossary.ConceptId;
import ferrule.procedure.Caution;
import ferrule.procedure.Procedure;
import ferrule.procedure.ProcedureId;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * A piece of work at the bench and what it is graded by.
 *
 * @param id stable name
 * @param title such as "Water key cork or pad replacement"
 * @param instrument the folder of the instrument that it is done on, such as {@code trumpet}
 * @param area the sort of bench work, by which instructors have their authority
 * @param level how demanding it is
 * @param purpose what the work is for
 * @param procedure the same work step by step, where it is described
 * @param steps the work in brief, in order
 * @param tools what is laid out for it
 * @param cautions confirmed before grading starts
 * @param parts that the work touches
 * @param photoAsked whether a picture of the work belongs to its grade
 * @param secondSignature whether work that meets the standard counts only when another instructor has signed too
 * @param passPercent the share of the criteria's weights that must pass, beside every critical one
 * @param criteria in the order of the work
 */
public record Task(
    TaskId id,
    String title,
    String instrument,
    Procedure.Area area,
    Level level,
    String purpose,
    Optional<ProcedureId> procedure,
    List<String> steps,
    List<String> tools,
    List<Caution> cautions,
    List<ConceptId> parts,
    boolean photoAsked,
    boolean secondSignature,
    int passPercent,
    List<Criterion> criteria) {

  /** How demanding a task is, from the lowest. */
  public enum Level {
    /** What an apprentice learns first. */
    BASIC,
    /** What asks for experience: heat, force, chemicals, or metal that cannot be put back. */
    ADVANCED;

    /** The word for it, as it is stored and shown. */
    public String word() {
      return name().toLowerCase(Locale.ROOT);
    }

    /** The level with this word; throws {@link IllegalArgumentException} for any other text. */
    public static Level parse(String word) {
      return valueOf(word.toUpperCase(Locale.ROOT));
    }
  }

  /** Copies the lists and checks that there is something to grade and something to confirm. */
  public Task {
    steps = List.copyOf(steps);
    tools = List.copyOf(tools);
    cautions = List.copyOf(cautions);
    parts = List.copyOf(parts);
    criteria = List.copyOf(criteria);
    if (cautions.isEmpty() || criteria.isEmpty()) {
      throw new IllegalArgumentException("task " + id + " needs at least one caution and one criterion");
    }
    if (passPercent < 1 || passPercent > 100) {
      throw new IllegalArgumentException("a pass share is 1 to 100 percent; given: " + passPercent);
    }
  }
}
