mod store_smoke;
