package ferrule.bench;

import com.fasterxml.jackson.databind.JsonNode;
import ferrule.device.Delivery;
import ferrule.device.DeviceStore;
import ferrule.device.Receipt;
import ferrule.device.Receiver;
import ferrule.people.Person;
import ferrule.people.Presence;
import ferrule.people.Role;
import java.time.Instant;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.concurrent.Semaphore;

/**
 * Takes in grades that were made on a device without a network, signed or not.
 *
 * <p>What was entered always becomes a draft here, with its photos: the one that it was begun from, or, if that has been
 * signed, changed or put aside meanwhile, one of its own. So nothing is lost whatever speaks against it. A signed one
 * then enters the log if the signer's PIN was right and nothing has happened meanwhile of which the signer could not
 * know; otherwise the draft stays open, with the reason, for its instructor to sign again or to put aside.
 */
public final class GradeReceiver implements Receiver {

  /** A grade that was signed on the device. */
  static final String SIGNED = "grade";
  /** A grade that was not. */
  static final String DRAFT = "draft";

  private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("d MMMM uuuu", Locale.ENGLISH);

  private final Bench bench;
  private final DeviceStore devices;
  private final Moments moments;
  // decoding takes memory: no more than two at once, whatever is sent
  private final Semaphore decoding = new Semaphore(2);

  /** A receiver for this bench. */
  public GradeReceiver(Bench bench, DeviceStore devices) {
    this.bench = bench;
    this.devices = devices;
    this.moments = bench.moments();
  }

  @Override
  public Set<String> kinds() {
    return Set.of(SIGNED, DRAFT);
  }

  /** What the device said of a grade. */
  private record Said(
      UUID draft, UUID apprentice, TaskId task, String tag, Optional<UUID> corrects, Instant knownAt, String base,
      Entries entries, String criteriaAre, String edition, String standing, Map<String, String> states,
      Set<String> herePhotos, Instant signedAt) {

    static Said of(JsonNode json) {
      Map<String, String> states = new TreeMap<>();
      json.path("shown").path("states").fields().forEachRemaining(e -> states.put(e.getKey(), e.getValue().asText()));
      Set<String> photos = new java.util.TreeSet<>();
      json.path("herePhotos").forEach(p -> photos.add(p.asText()));
      String corrects = json.path("corrects").asText();
      return new Said(
          UUID.fromString(json.path("draft").asText()), UUID.fromString(json.path("apprentice").asText()),
          TaskId.of(json.path("task").asText()), json.path("tag").asText(),
          corrects.isEmpty() ? Optional.empty() : Optional.of(UUID.fromString(corrects)),
          Instant.parse(json.path("knownAt").asText()), json.path("base").asText(),
          Entries.fromJson(json.path("entries").toString()), json.path("criteriaAre").asText(),
          json.path("edition").asText(), json.path("shown").path("standing").asText(), states, photos,
          Instant.parse(json.path("signedAt").asText()));
    }
  }

  /** The draft that it has become here, and what speaks against going on with the one that it was begun from. */
  private record Placed(Draft draft, Optional<String> objection) {}

  @Override
  public Receipt receive(Delivery delivery) {
    Said said;
    try {
      said = Said.of(delivery.said());
      if (said.tag().isBlank() || bench.people().person(said.apprentice()).isEmpty()) {
        throw new IllegalArgumentException("it names no apprentice or no instrument");
      }
    } catch (IllegalArgumentException | IllegalStateException | DateTimeParseException | NullPointerException e) {
      return new Receipt(
          Receipt.State.HELD, "A grade came from your device that cannot be read; nothing of it was entered.", "",
          Optional.empty());
    }
    return enteredBefore(delivery, said).or(() -> signedAlready(delivery, said))
        .orElseGet(() -> placeAndSign(delivery, said));
  }

  /** Where the reply was lost: the same signature stands in the log. */
  private Optional<Receipt> enteredBefore(Delivery delivery, Said said) {
    return bench.drafts().draft(said.draft()).flatMap(Draft::signedRecord).flatMap(bench.records()::find)
        .filter(r -> r.record().signature().onDevice().filter(d -> d.statement().equals(delivery.fingerprint())).isPresent())
        .map(r -> entered(r, said));
  }

  /** The very same grade was signed elsewhere meanwhile: there is nothing to add. */
  private Optional<Receipt> signedAlready(Delivery delivery, Said said) {
    return bench.drafts().draft(said.draft())
        .filter(d -> d.instructor().equals(delivery.device().person()) && d.entries().equals(said.entries()))
        .filter(d -> delivery.photos().isEmpty())
        .flatMap(Draft::signedRecord).flatMap(bench.records()::find)
        .map(r -> entered(r, said));
  }

  private Receipt entered(LoggedRecord entry, Said said) {
    return new Receipt(
        Receipt.State.ENTERED,
        what(said) + ": signed at " + moments.timeOf(said.signedAt()) + ", now record " + entry.number() + ".",
        "/bench/records/" + entry.id(), Optional.of(said.draft()));
  }

  private String what(Said said) {
    return bench.nameOf(said.apprentice()) + ", "
        + bench.tasks().find(said.task()).map(Task::title).orElse(said.task().value()) + ", instrument " + said.tag();
  }

  private Receipt placeAndSign(Delivery delivery, Said said) {
    Placed placed = addPhotos(delivery, said, place(delivery, said));
    if (!delivery.kind().equals(SIGNED)) {
      return placed.objection().map(words -> held(placed.draft(), said, "Entered on the device without a network. ", words))
          .orElseGet(() -> new Receipt(
              Receipt.State.KEPT, what(said) + ": what was entered is kept as a draft.",
              "/bench/drafts/" + placed.draft().id(), Optional.of(placed.draft().id())));
    }
    Person signer = bench.people().person(delivery.device().person()).orElseThrow();
    Optional<String> against = placed.objection()
        .or(() -> delivery.device().refusal(said.signedAt(), delivery.receivedAt()))
        .or(() -> changedPeople(signer, said))
        .or(() -> changedTask(signer, placed.draft(), said));
    if (against.isPresent()) {
      return heldSigned(placed.draft(), said, against.get());
    }
    Presence presence = bench.people().provePresence(signer.id(), delivery.pin());
    if (presence instanceof Presence.Locked locked) {
      return new Receipt(
          Receipt.State.AGAIN, "Too many wrong PINs. What was signed is brought again by itself after "
              + moments.timeOf(locked.until()) + ".", "", Optional.empty());
    }
    if (!(presence instanceof Presence.Proven)) {
      return heldSigned(placed.draft(), said, "The PIN that was typed on the device was not yours.");
    }
    return sign(delivery, said, placed.draft(), signer);
  }

  private Placed place(Delivery delivery, Said said) {
    UUID owner = delivery.device().person();
    // asked in this order: a draft that another delivery opens in between is not taken for one that was put aside
    boolean known = bench.drafts().isKnown(said.draft());
    Optional<Draft> there = bench.drafts().draft(said.draft());
    if (there.isEmpty() && !known) {
      return new Placed(open(said.draft(), delivery, said), Optional.empty());
    }
    Optional<String> objection = there.map(d -> objection(d, owner, said)).orElseGet(
        () -> Optional.of("The draft was put aside elsewhere meanwhile."));
    if (objection.isEmpty() && bench.drafts().keep(said.draft(), said.entries())) {
      return new Placed(bench.drafts().draft(said.draft()).orElseThrow(), Optional.empty());
    }
    return new Placed(
        open(delivery.id(), delivery, said), objection.or(() -> Optional.of("The draft was closed at that moment.")));
  }

  private Draft open(UUID id, Delivery delivery, Said said) {
    // a device knows nothing that happened after it last heard from here, and cannot have heard before it was known
    Instant knownAt = said.knownAt().isBefore(delivery.device().openedAt()) ? delivery.device().openedAt()
        : said.knownAt().isAfter(delivery.receivedAt()) ? delivery.receivedAt() : said.knownAt();
    bench.drafts().openFromDevice(
        id, delivery.device().person(), said.apprentice(), said.task(), said.tag(), said.entries(), said.corrects(),
        knownAt);
    return bench.drafts().draft(id).orElseThrow(
        () -> new IllegalStateException("the draft " + id + " was put aside before it was received"));
  }

  private Optional<String> objection(Draft there, UUID owner, Said said) {
    if (!there.instructor().equals(owner) || there.blindOf().isPresent()) {
      return Optional.of("The draft that it was begun from is another one.");
    }
    if (there.signedRecord().isPresent()) {
      String record = there.signedRecord().flatMap(bench.records()::find)
          .map(r -> ": record " + r.number() + " of " + moments.inWords(r.at())).orElse("");
      return Optional.of("You had signed this draft elsewhere already" + record + ".");
    }
    boolean same = Material.base(there.entries()).equals(said.base()) || there.entries().equals(said.entries());
    return same ? Optional.empty()
        : Optional.of("The draft was changed elsewhere after this device last had it; that one is kept too.");
  }

  private Placed addPhotos(Delivery delivery, Said said, Placed placed) {
    Draft draft = placed.draft();
    List<String> troubles = new ArrayList<>();
    Set<String> before = new java.util.TreeSet<>(bench.photos().of(draft.id()).stream().map(GradePhoto::sha256).toList());
    List<String> brought = new ArrayList<>();
    for (byte[] file : delivery.photos()) {
      try {
        CleanPhoto clean = clean(file);
        brought.add(clean.photo().sha256());
        if (!bench.photos().add(draft.id(), clean)) {
          troubles.add("A photo found no place in the draft.");
        }
      } catch (IllegalArgumentException e) {
        troubles.add("A photo could not be taken in. " + e.getMessage());
      }
    }
    before.removeAll(brought);
    if (placed.objection().isEmpty() && !before.equals(said.herePhotos())) {
      troubles.add("The draft's photos were changed elsewhere after this device last had it.");
    }
    return new Placed(draft, placed.objection().or(() -> troubles.stream().findFirst()));
  }

  private CleanPhoto clean(byte[] file) {
    decoding.acquireUninterruptibly();
    try {
      return CleanPhoto.of(file);
    } finally {
      decoding.release();
    }
  }

  private Optional<String> changedPeople(Person signer, Said said) {
    if (!signer.isPresent() || signer.role() != Role.INSTRUCTOR) {
      return Optional.of("You are not an instructor of this programme any more.");
    }
    Person apprentice = bench.people().person(said.apprentice()).orElseThrow();
    return apprentice.leftOn().map(LocalDate::from).map(
        day -> apprentice.fullName() + " left the programme on " + DAY.format(day) + ".");
  }

  private Optional<String> changedTask(Person signer, Draft draft, Said said) {
    Optional<Task> found = bench.tasks().find(said.task());
    if (found.isEmpty()) {
      return Optional.of("The task is not in the curriculum any more.");
    }
    Task task = found.get();
    if (!Material.fingerprint(task).equals(said.criteriaAre())) {
      return Optional.of("The task's words or limits have changed since: another edition of the curriculum is in use.");
    }
    return bench.refusal(signer.id(), task)
        .or(() -> Wanting.of(draft, task, bench.photos().of(draft.id()).isEmpty()))
        .or(() -> shownOtherwise(task, draft, said));
  }

  /** Nobody has put their name to a verdict that their device showed otherwise. */
  private static Optional<String> shownOtherwise(Task task, Draft draft, Said said) {
    Grading grading = Grading.of(task, draft.entries());
    Map<String, String> states = new TreeMap<>();
    grading.lines().stream().map(l -> CriterionView.of(l, draft.entries())).forEach(v -> states.put(v.id(), v.state()));
    String standing = Outcome.of(grading.findings(), task.passPercent()).standing().word();
    return states.equals(said.states()) && standing.equals(said.standing()) ? Optional.empty()
        : Optional.of("The device showed another verdict than the one that follows here.");
  }

  private Receipt sign(Delivery delivery, Said said, Draft draft, Person signer) {
    Task task = bench.tasks().find(said.task()).orElseThrow();
    Grade grade = Grade.of(
        draft.apprentice(), bench.nameOf(draft.apprentice()), task, draft.tag(), draft.entries(),
        bench.photos().of(draft.id()));
    OnDevice onDevice = new OnDevice(
        said.signedAt(), delivery.receivedAt(), delivery.device().provenAt().orElseThrow(), delivery.device().id(),
        delivery.fingerprint());
    Signing outcome = bench.records().signFromDevice(
        draft, grade, signer, said.edition(), onDevice, devices.subjects(delivery.device().id()));
    if (outcome instanceof Signing.Signed signed) {
      return entered(signed.entry(), said);
    }
    return enteredBefore(delivery, said).orElseGet(() -> heldSigned(draft, said, againstSigning(outcome)));
  }

  private String againstSigning(Signing outcome) {
    if (outcome instanceof Signing.SignedByAnother another) {
      LoggedRecord other = bench.records().find(another.record()).orElseThrow();
      return other.record().signature().name() + " signed this task for the same apprentice and instrument meanwhile: "
          + "record " + other.number() + " of " + moments.inWords(other.at()) + ".";
    }
    if (outcome instanceof Signing.TakenBefore taken) {
      long number = bench.records().find(taken.by()).orElseThrow().number();
      return "The record that it corrects had been corrected or withdrawn meanwhile, by record " + number + ".";
    }
    return "The draft was changed or signed elsewhere at that moment.";
  }

  private Receipt heldSigned(Draft draft, Said said, String against) {
    return held(
        draft, said, "Signed on the device at " + moments.inWords(said.signedAt()) + " without a network, and not entered. ",
        against);
  }

  private Receipt held(Draft draft, Said said, String first, String against) {
    return new Receipt(
        Receipt.State.HELD, what(said) + ". " + first + against + " Your grade is kept as a draft: look it over, then sign "
            + "it here or put it aside.", "/bench/drafts/" + draft.id(), Optional.of(draft.id()));
  }
}
