package ferrule.competency;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import ferrule.bench.SignedWork;
import ferrule.bench.Standing;
import ferrule.bench.TaskId;
import ferrule.glossary.ConceptId;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

/**
 * How one apprentice stands as JSON, and back, without loss but for the moment of judging.
 *
 * <p>It is read some hundred times for one page, so it is kept short: every text stands once, in a list that numbers point
 * into, and so does every sign-off; a rule is the number of its place in the programme. It is arrays within an array, in
 * the order in which the records have their components:
 *
 * <pre>
 * [texts, works, verdicts, last work: second, nanosecond; or null]
 * work:    record, number, task, tag, instructor, name, second, nanosecond, standing
 * verdict: [works], [term, right, asked, of ...], minutes, [title, complete ...], equivalence or null, [gap ...], [title ...]
 * gap:     0, rule, standing, have, more, used, new instruments, seen, new instructors, day or null
 *          1, assembly, term, right, needed, of
 *          2, assembly, term, right, asked, of, percent, more
 *          3, rule, have, more
 * </pre>
 *
 * <p>One of these serves one edition of the programme. Thread-safe.
 */
final class VerdictsDocument {

  /** Counted up with every change of the form, so that what is kept in an older one is not read. */
  static final int FORM = 1;

  private static final JsonFactory JSON = new JsonFactory();
  private static final Standing[] STANDINGS = Standing.values();

  private final Programme programme;
  private final List<String> competencies;
  private final List<Requirement> rules;
  private final Map<Requirement, Integer> places = new HashMap<>();

  VerdictsDocument(Programme programme) {
    this.programme = programme;
    competencies = programme.competencies().stream().map(Competency::id).toList();
    Set<Requirement> distinct = new LinkedHashSet<>();
    programme.competencies().stream().flatMap(c -> c.requires().all())
        .filter(r -> r instanceof Requirement.Signed || r instanceof Requirement.Hours).forEach(distinct::add);
    rules = List.copyOf(distinct);
    rules.forEach(rule -> places.put(rule, places.size()));
  }

  /** How somebody stands, as JSON. */
  String write(Progress progress) {
    try {
      return new Writer().write(progress);
    } catch (IOException e) {
      throw new UncheckedIOException("writing to memory does not fail", e);
    }
  }

  /** How this apprentice stood at a moment for which what {@link #write} wrote holds. */
  Progress read(UUID apprentice, Instant asOf, String json) {
    try (JsonParser parser = JSON.createParser(json)) {
      return new Reader(parser, apprentice).read(asOf);
    } catch (IOException e) {
      throw new IllegalStateException("kept verdicts cannot be read", e);
    }
  }

  /** Writes the verdicts first, apart, because they tell which texts and sign-offs there are. */
  private final class Writer {

    private final Map<String, Integer> texts = new LinkedHashMap<>();
    private final Map<SignedWork, Integer> works = new LinkedHashMap<>();

    String write(Progress progress) throws IOException {
      String written = array(json -> {
        for (Verdict verdict : progress.verdicts().values()) {
          write(json, verdict);
        }
      });
      String signed = array(json -> {
        for (SignedWork work : works.keySet()) {
          write(json, work);
        }
      });
      return array(json -> {
        json.writeStartArray();
        for (String text : texts.keySet()) {
          json.writeString(text);
        }
        json.writeEndArray();
        json.writeRawValue(signed);
        json.writeRawValue(written);
        if (progress.lastWork().isPresent()) {
          write(json, progress.lastWork().get());
        } else {
          json.writeNull();
        }
      });
    }

    private interface Content {
      void write(JsonGenerator json) throws IOException;
    }

    private static String array(Content content) throws IOException {
      StringWriter out = new StringWriter();
      try (JsonGenerator json = JSON.createGenerator(out)) {
        json.writeStartArray();
        content.write(json);
        json.writeEndArray();
      }
      return out.toString();
    }

    private int place(String text) {
      return texts.computeIfAbsent(text, t -> texts.size());
    }

    private void write(JsonGenerator json, SignedWork w) throws IOException {
      json.writeNumber(place(w.record().toString()));
      json.writeNumber(w.number());
      json.writeNumber(place(w.task().value()));
      json.writeNumber(place(w.tag()));
      json.writeNumber(place(w.instructor().toString()));
      json.writeNumber(place(w.instructorName()));
      write(json, w.gradedAt());
      json.writeNumber(w.standing().ordinal());
    }

    private void write(JsonGenerator json, Instant at) throws IOException {
      json.writeNumber(at.getEpochSecond());
      json.writeNumber(at.getNano());
    }

    private void write(JsonGenerator json, Verdict v) throws IOException {
      json.writeStartArray();
      for (SignedWork work : v.works()) {
        json.writeNumber(works.computeIfAbsent(work, w -> works.size()));
      }
      json.writeEndArray();
      json.writeStartArray();
      for (Map.Entry<String, PartsNamed> named : v.names().entrySet()) {
        json.writeNumber(place(named.getKey()));
        write(json, named.getValue());
      }
      json.writeEndArray();
      json.writeNumber(v.minutes());
      json.writeStartArray();
      for (Map.Entry<String, Boolean> before : v.before().entrySet()) {
        json.writeNumber(place(before.getKey()));
        json.writeNumber(before.getValue() ? 1 : 0);
      }
      json.writeEndArray();
      if (v.equivalence().isPresent()) {
        write(json, v.equivalence().get());
      } else {
        json.writeNull();
      }
      json.writeStartArray();
      for (Gap gap : v.missing()) {
        write(json, gap);
      }
      json.writeEndArray();
      json.writeStartArray();
      for (String title : v.first()) {
        json.writeNumber(place(title));
      }
      json.writeEndArray();
    }

    private void write(JsonGenerator json, PartsNamed named) throws IOException {
      json.writeNumber(named.right());
      json.writeNumber(named.asked());
      json.writeNumber(named.of());
    }

    private void write(JsonGenerator json, Equivalence e) throws IOException {
      json.writeNumber(place(e.id().toString()));
      json.writeNumber(place(e.competency()));
      json.writeNumber(place(e.reason()));
      json.writeNumber(place(e.grantedBy().toString()));
      json.writeNumber(place(e.grantedByName()));
      write(json, e.grantedAt());
      write(json, e.until());
    }

    private void write(JsonGenerator json, Optional<LocalDate> day) throws IOException {
      if (day.isPresent()) {
        json.writeNumber(day.get().toEpochDay());
      } else {
        json.writeNull();
      }
    }

    private void write(JsonGenerator json, Gap gap) throws IOException {
      if (gap instanceof Gap.SignOffs g) {
        int[] numbers = {
          0, places.get(g.rule()), g.standing().ordinal(), g.have(), g.more(), g.usedInstruments(), g.newInstruments(),
          g.seenBy(), g.newInstructors()
        };
        write(json, numbers);
        write(json, g.lapsed());
      } else if (gap instanceof Gap.Names g) {
        write(json, 1, place(g.assembly().value()), place(g.term()), g.right(), g.needed(), g.of());
      } else if (gap instanceof Gap.Known g) {
        write(json, 2, place(g.scope().value()), place(g.term()));
        write(json, g.named());
        write(json, g.percent(), g.more());
      } else {
        Gap.Hours g = (Gap.Hours) gap;
        write(json, 3, places.get(g.rule()), g.have(), g.more());
      }
    }

    private void write(JsonGenerator json, int... numbers) throws IOException {
      for (int number : numbers) {
        json.writeNumber(number);
      }
    }
  }

  private final class Reader {

    private final JsonParser parser;
    private final UUID apprentice;
    private final List<String> texts = new ArrayList<>();
    private final List<SignedWork> works = new ArrayList<>();

    Reader(JsonParser parser, UUID apprentice) {
      this.parser = parser;
      this.apprentice = apprentice;
    }

    Progress read(Instant asOf) throws IOException {
      begin();
      begin();
      while (parser.nextToken() != JsonToken.END_ARRAY) {
        texts.add(parser.getText());
      }
      begin();
      while (parser.nextToken() != JsonToken.END_ARRAY) {
        works.add(work());
      }
      begin();
      Map<String, Verdict> verdicts = new LinkedHashMap<>(competencies.size() * 2);
      while (parser.nextToken() != JsonToken.END_ARRAY) {
        verdicts.put(competencies.get(verdicts.size()), verdict());
      }
      if (verdicts.size() != competencies.size()) {
        throw new IOException("verdicts on " + verdicts.size() + " of " + competencies.size() + " competencies");
      }
      Optional<Instant> lastWork = parser.nextToken() == JsonToken.VALUE_NULL ? Optional.empty()
          : Optional.of(Instant.ofEpochSecond(parser.getLongValue(), number()));
      return new Progress(asOf, programme, verdicts, lastWork);
    }

    private void begin() throws IOException {
      parser.nextToken();
      expectArray();
    }

    private void expectArray() throws IOException {
      if (parser.currentToken() != JsonToken.START_ARRAY) {
        throw new IOException("expected an array, found " + parser.currentToken());
      }
    }

    private int number() throws IOException {
      parser.nextToken();
      return parser.getIntValue();
    }

    private long longNumber() throws IOException {
      parser.nextToken();
      return parser.getLongValue();
    }

    private String text() throws IOException {
      return texts.get(number());
    }

    private Instant instant() throws IOException {
      return Instant.ofEpochSecond(longNumber(), number());
    }

    private Optional<LocalDate> day() throws IOException {
      return parser.nextToken() == JsonToken.VALUE_NULL ? Optional.empty()
          : Optional.of(LocalDate.ofEpochDay(parser.getLongValue()));
    }

    /** The sign-off whose first number the parser is at. */
    private SignedWork work() throws IOException {
      UUID record = UUID.fromString(texts.get(parser.getIntValue()));
      return new SignedWork(
          record, longNumber(), apprentice, TaskId.of(text()), text(), UUID.fromString(text()), text(), instant(),
          STANDINGS[number()]);
    }

    /** The verdict whose first array the parser is at. */
    private Verdict verdict() throws IOException {
      expectArray();
      List<SignedWork> counting = new ArrayList<>();
      while (parser.nextToken() != JsonToken.END_ARRAY) {
        counting.add(works.get(parser.getIntValue()));
      }
      begin();
      Map<String, PartsNamed> names = new LinkedHashMap<>();
      while (parser.nextToken() != JsonToken.END_ARRAY) {
        names.put(texts.get(parser.getIntValue()), named());
      }
      int minutes = number();
      begin();
      Map<String, Boolean> before = new LinkedHashMap<>();
      while (parser.nextToken() != JsonToken.END_ARRAY) {
        before.put(texts.get(parser.getIntValue()), number() == 1);
      }
      Optional<Equivalence> equivalence = parser.nextToken() == JsonToken.VALUE_NULL ? Optional.empty()
          : Optional.of(equivalence());
      begin();
      List<Gap> missing = new ArrayList<>();
      while (parser.nextToken() != JsonToken.END_ARRAY) {
        missing.add(gap());
      }
      begin();
      List<String> first = new ArrayList<>();
      while (parser.nextToken() != JsonToken.END_ARRAY) {
        first.add(texts.get(parser.getIntValue()));
      }
      return new Verdict(counting, names, minutes, before, equivalence, missing, first);
    }

    private PartsNamed named() throws IOException {
      return new PartsNamed(number(), number(), number());
    }

    /** The grant whose first number the parser is at. */
    private Equivalence equivalence() throws IOException {
      UUID id = UUID.fromString(texts.get(parser.getIntValue()));
      return new Equivalence(
          id, apprentice, text(), text(), UUID.fromString(text()), text(), instant(), day());
    }

    /** The gap whose first number the parser is at. */
    private Gap gap() throws IOException {
      return switch (parser.getIntValue()) {
        case 0 -> new Gap.SignOffs(
            (Requirement.Signed) rules.get(number()), STANDINGS[number()], number(), number(), number(), number(),
            number(), number(), day());
        case 1 -> new Gap.Names(ConceptId.of(text()), text(), number(), number(), number());
        case 2 -> new Gap.Known(ConceptId.of(text()), text(), named(), number(), number());
        case 3 -> new Gap.Hours((Requirement.Hours) rules.get(number()), number(), number());
        default -> throw new IOException("no gap of sort " + parser.getIntValue());
      };
    }
  }
}
