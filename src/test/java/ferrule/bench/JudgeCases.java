package ferrule.bench;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;

/** Random entries for the curriculum's tasks with the verdicts that follow here, for those who judge elsewhere. */
public final class JudgeCases {

  private static final ObjectMapper JSON = new ObjectMapper();
  private static final List<String> UNITS = List.of("", " mm", "mm", " in", "\"", " thou", " °C", " °F", " g", " s", " cents", " furlongs");
  private static final List<String> ODD =
      List.of("", "abc", "1/64 in", "3 1/2\"", "1/3 in", "5/4 in", "1/8", "-0", "+.5", "0,30", "3.", ".", "−0.2", "1⁄64 in", "140 °F");

  private JudgeCases() {}

  /** So many cases as JSON: task, entries, what each criterion's state and words are, and how the work stands. */
  public static String of(long seed, int count) {
    Random random = new Random(seed);
    ArrayNode cases = JSON.createArrayNode();
    List<Task> tasks = Samples.TASKS.all();
    for (int i = 0; i < count; i++) {
      Task task = tasks.get(random.nextInt(tasks.size()));
      Entries entries = entries(task, random);
      cases.add(judged(task, entries));
    }
    return cases.toString();
  }

  private static ObjectNode judged(Task task, Entries entries) {
    ObjectNode node = JSON.createObjectNode();
    node.set("task", Material.taskAlone(task));
    try {
      node.set("entries", JSON.readTree(entries.toJson()));
    } catch (com.fasterxml.jackson.core.JsonProcessingException e) {
      throw new IllegalStateException(e);
    }
    Grading grading = Grading.of(task, entries);
    ArrayNode lines = node.putArray("lines");
    grading.lines().stream().map(l -> CriterionView.of(l, entries))
        .forEach(v -> lines.addObject().put("state", v.state()).put("words", v.words()));
    ObjectNode outcome = node.putObject("outcome");
    if (grading.isComplete()) {
      Outcome worked = Outcome.of(grading.findings(), task.passPercent());
      outcome.put("standing", worked.standing().word());
      worked.reasons().forEach(outcome.putArray("reasons")::add);
    }
    return node;
  }

  private static Entries entries(Task task, Random random) {
    Map<String, Integer> levels = new TreeMap<>();
    Map<String, String> readings = new TreeMap<>();
    Map<String, String> lowers = new TreeMap<>();
    Map<String, String> uppers = new TreeMap<>();
    for (Criterion criterion : task.criteria()) {
      if (criterion instanceof Criterion.Rated rated) {
        if (random.nextInt(12) > 0) {
          levels.put(rated.id(), 1 + random.nextInt(rated.levels().size()));
        }
      } else {
        Criterion.Measured m = (Criterion.Measured) criterion;
        readings.put(m.id(), typed(m, random, true));
        if (m.limitsBelongToInstructor()) {
          lowers.put(m.id(), random.nextInt(3) == 0 ? "" : typed(m, random, false));
          uppers.put(m.id(), random.nextInt(3) == 0 ? "" : typed(m, random, false));
        }
      }
    }
    return new Entries(true, levels, readings, lowers, uppers, "", "");
  }

  private static String typed(Criterion.Measured m, Random random, boolean nearLimits) {
    if (random.nextInt(8) == 0) {
      return ODD.get(random.nextInt(ODD.size()));
    }
    String unit = random.nextInt(3) > 0 ? "" : UNITS.get(random.nextInt(UNITS.size()));
    List<String> marks = new ArrayList<>();
    m.limits().ifPresent(l -> {
      l.lower().ifPresent(v -> marks.add(v.toPlainString()));
      l.upper().ifPresent(v -> marks.add(v.toPlainString()));
    });
    if (nearLimits && !marks.isEmpty() && random.nextBoolean()) {
      // on a limit and by a guard band around it, where a verdict turns
      String guard = m.rule().multiple().multiply(m.gauge().expandedUncertainty()).toPlainString();
      java.math.BigDecimal at = new java.math.BigDecimal(marks.get(random.nextInt(marks.size())));
      int by = random.nextInt(3) - 1;
      String text = at.add(new java.math.BigDecimal(guard).multiply(java.math.BigDecimal.valueOf(by))).toPlainString();
      return text.length() < 12 ? text : text.substring(0, 12);
    }
    return (random.nextInt(4) == 0 ? "-" : "") + random.nextInt(60) + (random.nextBoolean() ? "." + random.nextInt(100) : "") + unit;
  }
}
