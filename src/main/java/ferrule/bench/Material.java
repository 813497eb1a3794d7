package ferrule.bench;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import ferrule.people.Person;
import ferrule.people.Secrets;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Map;

/** What a device needs to grade without a network, as JSON: tasks, drafts, and who and what can be chosen. */
final class Material {

  private static final ObjectMapper JSON = new ObjectMapper();

  private Material() {}

  /** All of it. */
  static ObjectNode of(
      Bench bench, Person instructor, Collection<Task> tasks, Collection<Person> apprentices, Collection<Draft> drafts,
      Instant now) {
    ObjectNode root = JSON.createObjectNode();
    root.put("edition", bench.tasks().edition()).put("restsWith", bench.tasks().restsWith());
    root.put("now", now.toString());
    root.putObject("person").put("id", instructor.id().toString()).put("name", instructor.fullName());
    ArrayNode all = root.putArray("tasks");
    for (Task task : tasks) {
      ObjectNode node = taskAlone(task);
      node.put("criteriaAre", fingerprint(task));
      node.put("outside", bench.refusal(instructor.id(), task).orElse(""));
      Entries limits = bench.drafts().lastLimits(instructor.id(), task.id());
      node.set("lowers", JSON.valueToTree(limits.lowers()));
      node.set("uppers", JSON.valueToTree(limits.uppers()));
      all.add(node);
    }
    ArrayNode people = root.putArray("apprentices");
    apprentices.forEach(a -> people.addObject().put("id", a.id().toString()).put("name", a.fullName()));
    ArrayNode tags = root.putArray("tags");
    bench.drafts().instruments().forEach(i -> tags.addObject().put("tag", i.tag()).put("what", i.description()));
    ArrayNode open = root.putArray("drafts");
    drafts.forEach(d -> open.add(draft(bench, d, now)));
    return root;
  }

  /** A draft as the device goes on with it. */
  private static ObjectNode draft(Bench bench, Draft draft, Instant now) {
    ObjectNode node = JSON.createObjectNode();
    node.put("id", draft.id().toString()).put("apprentice", draft.apprentice().toString());
    node.put("apprenticeName", bench.nameOf(draft.apprentice()));
    node.put("task", draft.task().value()).put("tag", draft.tag());
    node.put("corrects", draft.corrects().map(Object::toString).orElse(""));
    node.put("knownAt", now.toString()).put("base", base(draft.entries()));
    node.set("entries", entries(draft.entries()));
    ArrayNode photos = node.putArray("herePhotos");
    bench.photos().of(draft.id()).forEach(p -> photos.add(p.sha256()));
    return node;
  }

  private static ObjectNode entries(Entries entries) {
    try {
      return (ObjectNode) JSON.readTree(entries.toJson());
    } catch (com.fasterxml.jackson.core.JsonProcessingException e) {
      throw new IllegalStateException("a draft's entries are not JSON", e);
    }
  }

  /** By what a device says which entries it started from. */
  static String base(Entries entries) {
    return Secrets.digest(entries.toJson());
  }

  /** By what a device says which words and limits it graded by. */
  static String fingerprint(Task task) {
    return Secrets.digest(taskAlone(task).toString());
  }

  /** A task by itself: its words and limits, by which it is graded. */
  static ObjectNode taskAlone(Task task) {
    ObjectNode node = JSON.createObjectNode();
    node.put("id", task.id().value()).put("title", task.title()).put("area", task.area().title());
    node.put("instrument", task.instrument());
    node.put("photoAsked", task.photoAsked()).put("secondSignature", task.secondSignature());
    node.put("passPercent", task.passPercent());
    ArrayNode cautions = node.putArray("cautions");
    task.cautions().forEach(
        c -> cautions.addObject().put("title", c.title()).put("hazard", c.hazard()).put("measure", c.measure()));
    ArrayNode criteria = node.putArray("criteria");
    task.criteria().forEach(c -> criteria.add(criterion(c)));
    return node;
  }

  private static ObjectNode criterion(Criterion criterion) {
    ObjectNode node = JSON.createObjectNode();
    node.put("id", criterion.id()).put("title", criterion.title());
    node.put("critical", criterion.critical()).put("weight", criterion.weight());
    if (criterion instanceof Criterion.Rated rated) {
      node.put("pass", rated.passLevel());
      node.set("levels", JSON.valueToTree(rated.levels()));
    } else if (criterion instanceof Criterion.Measured measured) {
      node.set("measured", measured(measured));
    }
    return node;
  }

  private static ObjectNode measured(Criterion.Measured measured) {
    ObjectNode node = JSON.createObjectNode();
    Unit unit = measured.unit();
    node.put("quantity", measured.quantity()).put("unit", unit.symbol());
    List<Unit> units = unit.alternatives();
    node.set("units", JSON.valueToTree(units.stream().map(u -> Map.of("symbol", u.symbol(), "written", u.written())).toList()));
    node.put("nominal", measured.nominal().map(n -> n.toPlainString()).orElse(""));
    measured.limits().ifPresent(l -> {
      ObjectNode limits = node.putObject("limits").put("words", l.inWords(unit)).put("source", l.source());
      limits.put("lower", l.lower().map(v -> v.toPlainString()).orElse(""));
      limits.put("upper", l.upper().map(v -> v.toPlainString()).orElse(""));
    });
    node.put("gauge", measured.gauge().inWords(unit));
    node.put("rule", measured.rule().inWords(measured.gauge().expandedUncertainty(), unit));
    node.put("guard", measured.rule().multiple().multiply(measured.gauge().expandedUncertainty()).toPlainString());
    return node;
  }
}
