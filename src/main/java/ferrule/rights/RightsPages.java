package ferrule.rights;

import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.web.Access;
import ferrule.web.Pages;
import ferrule.web.Paper;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;

/** Where people take everything that is kept about them, and a coordinator takes it for somebody. */
public final class RightsPages implements Pages {

  private final PersonFile file;
  private final PeopleStore people;

  /** The pages. */
  public RightsPages(PersonFile file, PeopleStore people) {
    this.file = file;
    this.people = people;
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/account/everything.zip", ctx -> send(ctx, Visit.person(ctx)), Access.SIGNED_IN);
    routes.get("/people/{id}/everything.zip", ctx -> send(ctx, person(ctx)), Access.COORDINATOR);
  }

  private Person person(Context ctx) {
    return people.person(Visit.id(ctx, "id")).orElseThrow(() -> Refusal.notFound("There is no such person."));
  }

  // made whole before it is sent: no connection waits for a slow line, and a fault is a page and not half a file
  private void send(Context ctx, Person person) {
    try {
      Path made = Files.createTempFile("everything", ".zip");
      try (OutputStream out = Files.newOutputStream(made)) {
        file.write(person, out);
      } catch (IOException | RuntimeException e) {
        Files.deleteIfExists(made);
        throw e;
      }
      ctx.contentType("application/zip");
      ctx.header("Content-Disposition",
          "attachment; filename=\"" + Paper.plain("everything about " + person.fullName()) + ".zip\"");
      ctx.result(Files.newInputStream(made, StandardOpenOption.DELETE_ON_CLOSE));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
