package ferrule.people;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.nimbusds.jose.JWSAlgorithm;
import com.nimbusds.jose.JWSHeader;
import com.nimbusds.jose.crypto.RSASSASigner;
import com.nimbusds.jose.jwk.gen.RSAKeyGenerator;
import com.nimbusds.jwt.JWTClaimsSet;
import com.nimbusds.jwt.SignedJWT;
import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Date;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Queue;
import java.util.concurrent.ConcurrentLinkedQueue;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** A provider that would send Ferrule elsewhere. */
class SchoolDeskTest {

  private static final String WELL_KNOWN = "/.well-known/openid-configuration";
  private static final URI BACK = URI.create("http://127.0.0.1:1/back");

  private final Queue<String> elsewhere = new ConcurrentLinkedQueue<>();
  private final Map<String, String> answers = new HashMap<>();
  private HttpServer provider;
  private HttpServer other;

  @BeforeEach
  void start() throws IOException {
    other = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
    other.createContext("/", exchange -> {
      elsewhere.add(exchange.getRequestURI().getPath());
      send(exchange, 200, answers.getOrDefault(exchange.getRequestURI().getPath(), "{}"));
    });
    other.start();
    provider = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
    provider.createContext("/", exchange -> {
      String path = exchange.getRequestURI().getPath();
      if (!answers.containsKey(path)) {
        exchange.getResponseHeaders().add("Location", address(other) + path);
      }
      send(exchange, answers.containsKey(path) ? 200 : 302, answers.getOrDefault(path, ""));
    });
    provider.start();
  }

  @AfterEach
  void stop() {
    provider.stop(0);
    other.stop(0);
  }

  private static void send(HttpExchange exchange, int status, String json) throws IOException {
    byte[] body = json.getBytes(StandardCharsets.UTF_8);
    exchange.getResponseHeaders().add("Content-Type", "application/json");
    exchange.sendResponseHeaders(status, body.length == 0 ? -1 : body.length);
    exchange.getResponseBody().write(body);
    exchange.close();
  }

  private static String address(HttpServer server) {
    return "http://localhost:" + server.getAddress().getPort();
  }

  private SchoolDesk desk() {
    return new SchoolDesk(new SchoolProvider(
        URI.create(address(provider)), "ferrule", Optional.of("a secret of the test"), "guild account", Optional.empty()));
  }

  private String metadata() {
    String at = address(provider);
    return """
        {"issuer": "%s", "authorization_endpoint": "%s/authorize", "token_endpoint": "%s/token", "jwks_uri": "%s/keys",
         "subject_types_supported": ["public"], "response_types_supported": ["code"],
         "id_token_signing_alg_values_supported": ["RS256"]}
        """.formatted(at, at, at, at);
  }

  private static SchoolDesk.Failure comeBack(SchoolDesk desk, SchoolDesk.Request request) {
    return assertThrows(
        SchoolDesk.Failure.class,
        () -> desk.identity(URI.create(BACK + "?code=1&state=" + request.state()), BACK, request));
  }

  @Test
  void whatItSaysOfItselfIsNotReadElsewhere() {
    assertThrows(SchoolDesk.Failure.class, () -> desk().address(SchoolDesk.Request.random(), BACK));
    assertEquals(List.of(), List.copyOf(elsewhere));
  }

  @Test
  void aCodeIsNotTakenElsewhere() {
    answers.put(WELL_KNOWN, metadata());
    comeBack(desk(), SchoolDesk.Request.random());
    assertEquals(List.of(), List.copyOf(elsewhere));
  }

  @Test
  void itsKeysAreNotReadElsewhere() throws Exception {
    var key = new RSAKeyGenerator(2048).keyID("1").generate();
    SchoolDesk.Request request = SchoolDesk.Request.random();
    SignedJWT token = new SignedJWT(
        new JWSHeader.Builder(JWSAlgorithm.RS256).keyID("1").build(),
        new JWTClaimsSet.Builder().issuer(address(provider)).audience("ferrule").subject("wren").issueTime(new Date())
            .expirationTime(Date.from(Instant.now().plusSeconds(300))).claim("nonce", request.nonce()).build());
    token.sign(new RSASSASigner(key));
    answers.put(WELL_KNOWN, metadata());
    answers.put("/token", """
        {"access_token": "a", "token_type": "Bearer", "id_token": "%s"}
        """.formatted(token.serialize()));

    SchoolDesk.Failure failure = comeBack(desk(), request);

    assertEquals(List.of(), List.copyOf(elsewhere));
    answers.put("/keys", "{\"keys\": [" + key.toPublicJWK().toJSONString() + "]}");
    assertEquals("wren", desk().identity(URI.create(BACK + "?code=1&state=" + request.state()), BACK, request)
        .orElseThrow().subject());
    assertTrue(failure.getMessage().contains("does not hold"), failure.getMessage());
  }
}
