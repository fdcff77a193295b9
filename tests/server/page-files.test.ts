import request from "supertest";
import { describe, expect, test } from "vitest";
import { whyNoPage } from "../page/page-in-browser.js";
import { appInTest } from "./service-in-test.js";

const app = appInTest({ token: "only-for-programs" });
const BROWSER_ACCEPTS = "text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8";

describe.skipIf(whyNoPage === "the page is not built")("the page's files", () => {
  test("a browser gets the page, and may run nothing that is not of the page", async () => {
    const { headers, text } = await request(app).get("/").set("Accept", BROWSER_ACCEPTS).expect(200);
    expect(text).toContain("<!doctype html>");
    expect(headers["content-security-policy"]).toContain("default-src 'none'");
    expect(headers["content-security-policy"]).not.toContain("unsafe-inline");
    expect(text).not.toMatch(/<style|style=|<script>/);
  });

  test("a program that asks for JSON, or for anything, gets the list as before", async () => {
    for (const accept of ["application/json", "*/*"])
      await request(app).get("/").set("Accept", accept).expect(401);
    const { body } = await request(app).get("/").set("Authorization", "Bearer only-for-programs").expect(200);
    expect(body.name).toBe("undervoice");
  });

  test("nothing outside the page's folder is handed out", async () => {
    await request(app).get("/../service.js").expect(404);
    await request(app).get("/%2e%2e/service.js").expect(404);
  });
});
