package ferrule.bench;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import ferrule.device.Device;
import ferrule.device.DeviceStore;
import ferrule.people.Person;
import ferrule.people.Presence;
import ferrule.people.Role;
import ferrule.web.Access;
import ferrule.web.OnlyOwn;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.time.Clock;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/** Making a device ready to grade without a network: what it takes along, and the proof of presence for signing there. */
public final class AlongPages implements Pages {

  private static final int MOST_DRAFTS = 40;
  private static final ObjectMapper JSON = new ObjectMapper();

  private final Bench bench;
  private final DeviceStore devices;
  private final Moments moments;
  private final Clock clock;

  /** The pages. */
  public AlongPages(Bench bench, DeviceStore devices, Clock clock) {
    this.bench = bench;
    this.devices = devices;
    this.moments = bench.moments();
    this.clock = clock;
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/bench/along", this::show, Access.INSTRUCTOR);
    routes.post("/bench/along", this::take, Access.INSTRUCTOR);
    routes.post("/bench/along/material", this::material, Access.INSTRUCTOR);
    routes.post("/bench/along/{device}/close", this::close, Access.INSTRUCTOR, OnlyOwn.of(
        Role.INSTRUCTOR, "device",
        (me, id) -> Visit.uuid(id).flatMap(devices::find).filter(d -> d.person().equals(me.id())).isPresent()));
  }

  /** A device that was taken along. */
  record DeviceLine(UUID id, String provenAt, String signsUntil, boolean signs) {}

  private void show(Context ctx) {
    Person instructor = Visit.person(ctx);
    Map<String, Object> model = new HashMap<>();
    model.put("areas", BenchPages.areas(bench, instructor.id()));
    model.put("groups", BenchPages.groups(bench.people()));
    model.put("chosenTask", "");
    model.put("hasPin", bench.people().hasPin(instructor.id()));
    model.put("hours", Device.SIGNS_FOR.toHours());
    model.put("devices", devices.takenAlong(instructor.id()).stream().map(this::line).toList());
    Page.show(ctx, "bench/along", model);
  }

  private DeviceLine line(Device device) {
    return new DeviceLine(
        device.id(), moments.inWords(device.provenAt().orElseThrow()), moments.inWords(device.signsUntil().orElseThrow()),
        device.signsUntil().orElseThrow().isAfter(clock.instant()));
  }

  private static List<UUID> ids(Context ctx, String name) {
    return ctx.formParams(name).stream().filter(t -> t.matches("[0-9a-fA-F-]{36}")).map(UUID::fromString).toList();
  }

  /** Takes the PIN and hands out what was chosen, with all open drafts. */
  private void take(Context ctx) {
    Person instructor = Visit.person(ctx);
    UUID id = Visit.formId(ctx, "device", "The device is not known. Load the page again.");
    Presence presence = bench.people().provePresence(instructor.id(), Visit.formText(ctx, "pin").orElse(""));
    Optional<String> refusal = PinCheck.refusal(presence, moments);
    if (refusal.isPresent()) {
      ctx.status(422);
      send(ctx, JSON.createObjectNode().put("problem", refusal.get()));
      return;
    }
    Device device = devices.proven(id, instructor.id())
        .orElseThrow(() -> Refusal.invalid("The device is not yours or was given up. Load the page again."));
    ObjectNode root = materialFor(ctx, instructor);
    root.put("signsUntil", device.signsUntil().orElseThrow().toString());
    root.put("signsUntilWords", moments.inWords(device.signsUntil().orElseThrow()));
    send(ctx, root);
  }

  /** What an open draft needs; so its page goes on without a network though nothing was taken along. */
  private void material(Context ctx) {
    send(ctx, materialFor(ctx, Visit.person(ctx)));
  }

  private ObjectNode materialFor(Context ctx, Person instructor) {
    List<UUID> asked = ids(ctx, "draft");
    List<Draft> drafts = bench.drafts().openDrafts(instructor.id()).stream()
        .filter(d -> d.blindOf().isEmpty() && (asked.isEmpty() || asked.contains(d.id())))
        .limit(MOST_DRAFTS).toList();
    List<Task> tasks = bench.tasks().all().stream()
        .filter(t -> ctx.formParams("task").contains(t.id().value()) || drafts.stream().anyMatch(d -> d.task().equals(t.id())))
        .toList();
    List<Person> apprentices = ctx.formParams("apprentice").stream().flatMap(a -> bench.apprentice(a).stream()).toList();
    return Material.of(bench, instructor, tasks, apprentices, drafts, clock.instant());
  }

  private static void send(Context ctx, ObjectNode root) {
    ctx.contentType("application/json");
    ctx.result(root.toString());
  }

  private void close(Context ctx) {
    devices.close(Visit.id(ctx, "device"), Visit.person(ctx).id());
    Page.goTo(
        ctx, "/bench/along", "Given up. What still comes from that device is kept as drafts, and nothing of it is entered.");
  }
}
